package command

// This file is serve: the bench in a browser.

import (
	"context"
	"crypto/tls"
	"fmt"
	"net"
	"os"
	"os/signal"
	"strings"

	"github.com/spf13/cobra"

	"underload/ui/screen"
	"underload/ui/seat"
	"underload/ui/web"
)

// usualListen is where it is served unless told otherwise: on this machine only, and always at the same place, since a
// browser keeps a person's work by address.
const usualListen = "localhost:8417"

// serving is how to serve.
type serving struct {
	listen string
	tls    string // CERT,KEY
}

func serveCommand(surroundings Streams) *cobra.Command {
	how := serving{listen: usualListen}
	var l laid
	cmd := &cobra.Command{
		Use: "serve [FILE] [--faults FILE[#ID]] [--hide] [--listen ADDR] [--tls CERT,KEY]", Short: "Open the same bench in a browser, here or on a tablet at the vehicle",
		Long: paragraphs("Serves one circuit to browsers until it is stopped with Ctrl+C. Nothing but that circuit and the program is given out. The file is watched: save it in an editor, and every open page follows.",
			"It can be reached from this machine only, unless --listen names another address: --listen :8417 for all of this machine's. Whoever reaches it then can read the circuit.",
			"--faults lays faults over the circuit, and --hide keeps them from the screen, as for view. They are computed in the browser, so whoever looks into what the page has received can find them.",
			"A page that was opened once works without the server too; browsers allow that only on this machine, or over TLS with a certificate they trust: --tls cert.pem,key.pem.",
			"Without FILE it serves an example."),
		Args:              between(0, "FILE"),
		ValidArgsFunction: completeFile(nil),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := l.sit(args)
			if err != nil {
				return err
			}
			return serve(s, surroundings, how)
		},
	}
	l.flags(cmd)
	cmd.Flags().Var(word{&how.listen, "ADDR"}, "listen", "address and port to listen on")
	cmd.Flags().Var(word{&how.tls, "CERT,KEY"}, "tls", "certificate and key, two files in PEM form, for a tablet that shall work offline")
	return cmd
}

// serve answers browsers until the program is interrupted.
func serve(s *seat.Seat, surroundings Streams, how serving) error {
	var certificate *tls.Certificate
	if how.tls != "" {
		cert, key, two := strings.Cut(how.tls, ",")
		if !two {
			return fmt.Errorf("--tls wants two files with a comma between: --tls cert.pem,key.pem")
		}
		var err error
		if certificate, err = web.ReadCertificate(cert, key); err != nil {
			return fmt.Errorf("--tls: %w", err)
		}
	}
	address := how.listen
	if _, _, err := net.SplitHostPort(address); err != nil {
		address = net.JoinHostPort(address, "8417")
	}
	on, err := net.Listen("tcp", address)
	if err != nil {
		return fmt.Errorf("%w: choose another address with --listen, such as localhost:0 for any free port", err)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	server := web.New(web.Options{Name: s.View.File, Text: s.Text, Faults: s.View.Faults, Hide: s.View.Hide, Certificate: certificate})
	if s.Path != "" {
		go screen.Watch(s.Path, ctx.Done(), server.Saved)
	}
	pages := web.Addresses(on.Addr(), certificate != nil)
	fmt.Fprintf(surroundings.Out, "%s is served at %s (Ctrl+C ends it)\n", s.View.File, pages[0])
	if tcp, ok := on.Addr().(*net.TCPAddr); ok && !tcp.IP.IsLoopback() {
		for _, page := range pages[1:] {
			fmt.Fprintf(surroundings.Out, "  from elsewhere: %s\n", page)
		}
		fmt.Fprintln(surroundings.Out, "Whoever reaches this address can read the circuit.")
		if certificate == nil {
			fmt.Fprintln(surroundings.Out, "Without --tls a browser elsewhere will not let it work offline.")
		}
	}
	return server.Serve(ctx, on)
}
