package web

// This file tries TLS, and the addresses that are told to a person.

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// certificate is one for this machine, also under other names, signed by itself, with its files.
func certificate(t *testing.T, names ...string) (cert, key string, trust *x509.CertPool) {
	t.Helper()
	secret, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(1), NotAfter: time.Now().Add(time.Hour), DNSNames: append(names, "localhost"),
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &secret.PublicKey, secret)
	if err != nil {
		t.Fatal(err)
	}
	secretDER, err := x509.MarshalPKCS8PrivateKey(secret)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	cert, key = filepath.Join(folder, "cert.pem"), filepath.Join(folder, "key.pem")
	for file, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "PRIVATE KEY", Bytes: secretDER}} {
		if err := os.WriteFile(file, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	trust = x509.NewCertPool()
	trust.AppendCertsFromPEM(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}))
	return cert, key, trust
}

func TestTLS(t *testing.T) {
	cert, key, trust := certificate(t)
	c, err := ReadCertificate(cert, key)
	if err != nil {
		t.Fatal(err)
	}
	s := New(Options{Name: "lamp.yaml", Text: circuitText, Certificate: c, Build: built})
	at := serve(t, s)
	if !strings.HasPrefix(at, "https://localhost:") {
		t.Fatal(at)
	}
	client := func(most uint16) *http.Client {
		return &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: trust, MinVersion: tls.VersionTLS10, MaxVersion: most}}}
	}
	r, err := client(tls.VersionTLS13).Get(at + "circuit")
	if err != nil || !strings.Contains(body(t, r), "A lamp") {
		t.Fatal(r, err)
	}
	if _, err := client(tls.VersionTLS11).Get(at); err == nil {
		t.Error("a version of TLS that is given up is still spoken")
	}
	for _, names := range [][2]string{{"none.pem", key}, {cert, "none.pem"}, {key, cert}} {
		if _, err := ReadCertificate(names[0], names[1]); err == nil {
			t.Errorf("%v is taken for a certificate and its key", names)
		}
	}
}

func TestAddresses(t *testing.T) {
	for on, want := range map[string]string{"127.0.0.1:8417": "http://localhost:8417/", "[::1]:8417": "http://localhost:8417/",
		"0.0.0.0:8417": "http://localhost:8417/", "[::]:8417": "http://localhost:8417/", "192.0.2.7:8417": "http://192.0.2.7:8417/"} {
		if got := Addresses(address(on), false)[0]; got != want {
			t.Errorf("%s is %s, want %s", on, got, want)
		}
	}
}
