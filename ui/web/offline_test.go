//go:build linux

package web

import (
	"context"
	"crypto/sha256"
	"crypto/x509"
	"encoding/base64"
	"net"
	"strings"
	"testing"

	"underload/circuits"
	"underload/ui/internal/hands"
	"underload/ui/view"
)

// A tablet in the yard: it knows the server by a name (RFC 2606 keeps .example for such), not as this machine, so the
// browser lets the page work offline only because of the certificate.
func TestOfflineOverTLS(t *testing.T) {
	const name = "bench.example"
	cert, key, _ := certificate(t, name)
	c, err := ReadCertificate(cert, key)
	if err != nil {
		t.Fatal(err)
	}
	signed, err := x509.ParseCertificate(c.Certificate[0])
	if err != nil {
		t.Fatal(err)
	}
	trusted := sha256.Sum256(signed.RawSubjectPublicKeyInfo)
	b := newBrowser(t, 1024, 768, "--host-resolver-rules=MAP "+name+" 127.0.0.1",
		"--ignore-certificate-errors-spki-list="+base64.StdEncoding.EncodeToString(trusted[:]))
	text, err := circuits.Source(hands.Example)
	if err != nil {
		t.Fatal(err)
	}
	on, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() {
		ended <- New(Options{Name: hands.Example + ".yaml", Text: text, Certificate: c}).Serve(ctx, on)
	}()
	defer stop()
	b.open(strings.Replace(Addresses(on.Addr(), true)[0], "localhost", name, 1))
	b.bench()
	b.until("the name in the address", "location.protocol === 'https:' && location.hostname === '"+name+"'")
	b.until("the page kept for working offline", "(async () => (await caches.match('underload.wasm?v=' + localStorage.getItem('underload.build'))) != null && (await caches.match('circuit')) != null)()")
	stop()
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
	b.call("Page.reload", nil, nil)
	b.bench()
	face{b}.Until("the circuit without its server", func(r view.Report) bool { return strings.HasPrefix(r.Title, "Orchard sprayer") && len(r.Points) > 0 })
}
