package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/pflag"

	"stoneproof/rules"
)

// ticketFlags say what the job asks, as they were typed.
type ticketFlags struct {
	size, trim, bleed, safe, process, file string
}

func (f *ticketFlags) register(set *pflag.FlagSet) {
	set.StringVar(&f.size, "size", "", "card size by `NAME`, default "+rules.DefaultSize+" (see stoneproof sizes)")
	set.StringVar(&f.trim, "trim", "", "finished size as `WxH`: 85x55mm, 3.5x2in")
	set.StringVar(&f.bleed, "bleed", "", "paint beyond the trim, a `LENGTH` per edge: 3mm, 0.125in")
	set.StringVar(&f.safe, "safe", "", "margin inside the trim to keep clear, a `LENGTH` per edge")
	set.StringVar(&f.process, "process", "", "`PROCESS` is desktop, digital (default), offset-coated or\noffset-uncoated")
	set.StringVar(&f.file, "ticket", "", "job ticket in TOML, from `FILE`; flags override it")
}

// ticket lays the flags over the ticket file.
func (f *ticketFlags) ticket() (rules.Ticket, error) {
	order, err := f.order()
	if err != nil {
		return rules.Ticket{}, err
	}
	t, err := order.Ticket()
	if err != nil && f.file != "" {
		return t, f.blame(err)
	}
	return t, err
}

// blame names the ticket file in an error that it makes without any flags, too.
func (f *ticketFlags) blame(err error) error {
	written, cannot := readTicket(f.file)
	if cannot != nil {
		return err
	}
	if _, alone := written.Ticket(); alone != nil && alone.Error() == err.Error() {
		return inTicket(f.file, err)
	}
	return err
}

// inTicket names the ticket file in an error that does not do so itself.
func inTicket(path string, err error) error {
	var named *rules.TicketError
	if err == nil || errors.As(err, &named) {
		return err
	}
	return fmt.Errorf("ticket %q: %w", path, err)
}

// order is what the flags and the ticket file ask for.
func (f *ticketFlags) order() (rules.Order, error) {
	order := rules.Order{Size: f.size, Process: f.process}
	if f.trim != "" {
		size, err := rules.ParseSize(f.trim)
		if err != nil {
			return rules.Order{}, fmt.Errorf("--trim: %w", err)
		}
		order.Trim = &size
	}
	for _, l := range []struct {
		flag, text string
		into       **rules.Length
	}{{"--bleed", f.bleed, &order.Bleed}, {"--safe", f.safe, &order.Safe}} {
		if l.text == "" {
			continue
		}
		length, err := rules.ParseLength(l.text)
		if err != nil {
			return rules.Order{}, fmt.Errorf("%s: %w", l.flag, err)
		}
		*l.into = &length
	}
	if f.file == "" {
		return order, nil
	}
	written, err := readTicket(f.file)
	if err != nil {
		return rules.Order{}, err
	}
	return order.Over(written), nil
}

func readTicket(path string) (rules.Order, error) {
	file, err := os.Open(path)
	if err != nil {
		return rules.Order{}, fmt.Errorf("failed to open ticket %q: %w", path, cause(err))
	}
	defer file.Close()
	const most = 1 << 20 // a page of settings; ReadTicket has the finer word
	text, err := io.ReadAll(io.LimitReader(file, most))
	if err != nil {
		return rules.Order{}, fmt.Errorf("failed to read ticket %q: %w", path, cause(err))
	}
	return rules.ReadTicket(path, text)
}
