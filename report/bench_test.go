package report

import (
	"io"
	"testing"

	"stoneproof/rules"
)

// BenchmarkTable tells a folder of two hundred files.
func BenchmarkTable(b *testing.B) {
	us := usTicket(b)
	r := rules.Report{Ticket: us}
	for range 50 {
		r.Files = append(r.Files, potter(us), baker(us), mender(us), torn())
	}
	for b.Loop() {
		if err := Table(io.Discard, r, TableOptions{Width: 100, Colour: true, All: true}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkJSON writes the same folder for programs.
func BenchmarkJSON(b *testing.B) {
	us := usTicket(b)
	r := rules.Report{Ticket: us}
	for range 50 {
		r.Files = append(r.Files, potter(us), baker(us), mender(us), torn())
	}
	for b.Loop() {
		if err := JSON(io.Discard, r); err != nil {
			b.Fatal(err)
		}
	}
}
