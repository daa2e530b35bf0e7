package web

// This file keeps strangers out: a page of another site that calls itself this server, and anything that is not ours
// inside our own page.

import (
	"net"
	"net/http"
	"os"
	"strconv"
	"strings"
)

// policy lets the page load from this server only, and run its program; nothing else.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard refuses requests for other hosts, and gives every answer its safety headers.
func guard(own func(host string) bool, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-cache")
		if !own(r.Host) {
			http.Error(w, "This server was asked for under a name that is not its own. Use the address that it printed when it started.", http.StatusMisdirectedRequest)
			return
		}
		if site := r.Header.Get("Sec-Fetch-Site"); site == "cross-site" && r.URL.Path != "/" {
			http.Error(w, "Only this server's own page may ask for this.", http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// ownHosts tells the names and addresses under which a listener can be reached from those under which it cannot: an
// attacker's name that was made to point here. names are those of the certificate.
func ownHosts(on net.Addr, names []string, secure bool) func(host string) bool {
	tcp, ok := on.(*net.TCPAddr)
	if !ok {
		return func(string) bool { return false }
	}
	own := map[string]bool{}
	for _, name := range names {
		own[strings.ToLower(name)] = true
	}
	addresses := []net.IP{tcp.IP}
	if tcp.IP.IsUnspecified() {
		addresses = machineAddresses()
		if name, err := os.Hostname(); err == nil {
			own[strings.ToLower(name)] = true
		}
	}
	for _, ip := range addresses {
		own[ip.String()] = true
		if ip.IsLoopback() {
			own["localhost"] = true
		}
	}
	usual := "80"
	if secure {
		usual = "443"
	}
	return func(host string) bool {
		name, port, err := net.SplitHostPort(host)
		if err != nil {
			name, port = strings.Trim(host, "[]"), usual
		}
		if ip := net.ParseIP(name); ip != nil {
			name = ip.String()
		}
		return port == strconv.Itoa(tcp.Port) && own[strings.ToLower(name)]
	}
}

// machineAddresses are all the addresses of this machine.
func machineAddresses() []net.IP {
	var found []net.IP
	all, err := net.InterfaceAddrs()
	if err != nil {
		return []net.IP{net.IPv4(127, 0, 0, 1), net.IPv6loopback}
	}
	for _, a := range all {
		if network, ok := a.(*net.IPNet); ok {
			found = append(found, network.IP)
		}
	}
	return found
}
