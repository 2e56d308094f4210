package syntax

import (
	"math"
	"testing"
)

func FuzzLex(f *testing.F) {
	for _, s := range []string{"1 -2.5 .5 (a\\(b\\)\\101) <48 6> /Na#6de [1 [2]] << /A /B >> % x\n true", "((", "<<", "<4", ">>", "}{", "\\", "(\\", "--1..2"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		l := Lexer{B: b}
		at := -1
		args := Operands{Most: 100}
		for tok := l.Next(); tok.Kind != End; tok = l.Next() {
			if l.P <= at {
				t.Fatalf("stands still at %d", at)
			}
			at = l.P
			if math.IsNaN(tok.Num) || math.Abs(tok.Num) > 1e30 {
				t.Fatalf("%q is %v", tok.Raw, tok.Num)
			}
			_, _ = tok.AppendString(nil), tok.NameString()
			args.Add(tok)
		}
		args.Settle()
		for i := range args.List {
			if i+args.List[i].Span >= len(args.List) && args.List[i].Span > 0 {
				t.Fatalf("token %d spans past the end", i)
			}
		}
	})
}

func TestStrings(t *testing.T) {
	for in, want := range map[string]string{
		`(a\n\r\t\b\f\(\)\\)`: "a\n\r\t\b\f()\\", `(\101\7\1234)`: "A\x07S4", "(a\\\nb\\\r\nc)": "abc", `(a(b)c)`: "a(b)c", `(\q)`: "q", `(open`: "open",
		"<48 65 6>": "He`", "<zz>": "", "<4": "@",
	} {
		l := Lexer{B: []byte(in)}
		if got := string(l.Next().AppendString(nil)); got != want {
			t.Errorf("%s: %q, want %q", in, got, want)
		}
	}
	l := Lexer{B: []byte("/Na#6de#zz#4")}
	if got := l.Next().NameString(); got != "Name#zz#4" {
		t.Errorf("%q", got)
	}
	for in, want := range map[string]float64{"1": 1, "-2.50": -2.5, "+.5": 0.5, "4.": 4, "--7": -7, "1.2.3": 1.2, "5-3": 5, "0.000001": 1e-6, "12345678901": 12345678901} {
		if got := ParseNumber([]byte(in)); math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s: %v, want %v", in, got, want)
		}
	}
}
