package desk

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"fmt"
	"net"
	"net/http"
	"time"

	"stoneproof/report/page"
	"stoneproof/rules"
)

// File is a file that lies on the desk. Its bytes never change.
type File struct {
	Name  string
	Bytes []byte
}

// Job is what there is to judge: a front, or a front and its back.
type Job struct {
	Ticket rules.Ticket
	Files  []File
}

// Judged is what came of a job.
type Judged struct {
	Report rules.Report
	Proofs [][]page.Proof // of each file's sides, by the file
}

// Judge judges a job and tells how far it is. It ends early with its context.
type Judge func(ctx context.Context, job Job, tell func(string)) Judged

// Ceilings bound what the desk takes.
type Ceilings struct {
	FileBytes int64         // of one file; there are two at most
	FormBytes int64         // of all that is asked beside the files
	Patience  time.Duration // for a request to arrive
}

// DefaultCeilings suit a card: a poster at 300 ppi, uncompressed, is 100 MB.
func DefaultCeilings() Ceilings {
	return Ceilings{FileBytes: 128 << 20, FormBytes: 64 << 10, Patience: 2 * time.Minute}
}

// Desk is a desk that was set up. Order is the ticket to begin with.
type Desk struct {
	order    rules.Order
	judge    Judge
	ceilings Ceilings
	version  string

	listener net.Listener
	host     string // by which it is called, and no other
	token    string
	table    table
}

// Options says how to set up a desk.
type Options struct {
	Order    rules.Order
	Judge    Judge
	Ceilings Ceilings
	Version  string
	Port     int // 0 for any that is free
}

// New sets up a desk on the loopback address. From now on the port is taken; Serve
// answers, and Close gives it back.
func New(o Options) (*Desk, error) {
	l, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", fmt.Sprint(o.Port)))
	if err != nil {
		return nil, err
	}
	secret := make([]byte, 32)
	rand.Read(secret)
	return &Desk{
		order: o.Order, judge: o.Judge, ceilings: o.Ceilings, version: o.Version,
		listener: l, host: l.Addr().String(), token: base64.RawURLEncoding.EncodeToString(secret),
	}, nil
}

// Address is where the desk is to be found.
func (d *Desk) Address() string { return "http://" + d.host + "/" + d.token + "/" }

// Serve answers until the context ends.
func (d *Desk) Serve(ctx context.Context) error {
	server := &http.Server{
		Handler: d, ReadTimeout: d.ceilings.Patience, ReadHeaderTimeout: 10 * time.Second, IdleTimeout: time.Minute,
		MaxHeaderBytes: 32 << 10,
		BaseContext:    func(net.Listener) context.Context { return ctx },
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(d.listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
		d.table.clear()
		return server.Close()
	}
}

// Close gives the port back where Serve was never called.
func (d *Desk) Close() error { return d.listener.Close() }
