package pdf

import (
	"bytes"
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// endOfFile has to stand in the last 1024 bytes (7.5.5; PDF Reference, 6th edition,
// Appendix H, implementation note 18; number from memory).
const endOfFile = "%%EOF"

func endsNormally(b []byte) bool {
	return bytes.Contains(b[max(0, len(b)-1024):], []byte(endOfFile))
}

// mends judges the file as it lies on disk, where the parser has silently put
// things right: what a reader has to mend, in plain words.
func mends(b []byte, ctx *model.Context) []string {
	var list []string
	add := func(format string, a ...any) { list = append(list, fmt.Sprintf(format, a...)) }

	switch rest := afterEnd(b); {
	case !endsNormally(b):
		add("the end-of-file mark is missing, so the file is probably cut off")
	case len(rest) > 0:
		add("%d bytes of something else follow the end of the file", len(rest))
	}
	if full := linearizedLength(b); full > len(b) {
		add("the file says that it is %d bytes long but only %d are here, so it is cut off", full, len(b))
	}
	at, ok := startOfTable(b)
	if !ok {
		add("the place of the cross-reference table is not given, so readers have to search for the objects")
	} else {
		t := tableCheck{b: b, shift: headerAt(b), seen: map[int]bool{}}
		t.section(at)
		switch {
		case t.missing:
			add("the cross-reference table is not where the file says, so readers have to search for the objects")
		case t.wrong > 0:
			add("%d of %d entries of the cross-reference table do not point at their objects", t.wrong, t.total)
		}
	}
	if n := wrongLengths(b, ctx); n > 0 {
		add("%d streams of data are not as long as the file says, so some may be cut off", n)
	}
	return list
}

// afterEnd is what follows the last end-of-file mark, less white space and
// comments.
func afterEnd(b []byte) []byte {
	i := bytes.LastIndex(b, []byte(endOfFile))
	if i < 0 {
		return nil
	}
	l := syntax.Lexer{B: b, P: i + len(endOfFile)}
	l.SkipWhite()
	return b[l.P:]
}

// linearizedLength is the /L of a linearized file (Annex F, Table F.1), 0 if it is none.
// An update appended later makes the file longer, never shorter.
func linearizedLength(b []byte) int {
	head := b[:min(len(b), 1024)]
	if !bytes.Contains(head, []byte("/Linearized")) {
		return 0
	}
	l := syntax.Lexer{B: head}
	for t := l.Next(); t.Kind != syntax.End; t = l.Next() {
		if t.Kind == syntax.Name && string(t.Raw) == "L" {
			return int(l.Next().Num)
		}
	}
	return 0
}

// startOfTable reads the last startxref (7.5.5).
func startOfTable(b []byte) (at int, ok bool) {
	i := bytes.LastIndex(b, []byte("startxref"))
	if i < 0 {
		return 0, false
	}
	l := syntax.Lexer{B: b, P: i + len("startxref")}
	t := l.Next()
	return int(t.Num), t.Kind == syntax.Number
}

// wrongLengths counts streams whose Length does not lead to their endstream.
func wrongLengths(b []byte, ctx *model.Context) int {
	if ctx.Encrypt != nil || headerAt(b) > 0 {
		return 0 // the parser has changed the lengths, or counts from elsewhere
	}
	n := 0
	for _, e := range ctx.Table {
		if e == nil || e.Free {
			continue
		}
		sd, ok := e.Object.(types.StreamDict)
		if !ok || sd.StreamLength == nil {
			continue
		}
		end := sd.StreamOffset + *sd.StreamLength
		if end < 0 || end > int64(len(b)) || !endsStream(b[end:]) {
			n++
		}
	}
	return n
}

// endsStream looks for the endstream that follows data; a few white bytes more than
// Length counts do no harm.
func endsStream(b []byte) bool {
	const most = 16
	l := syntax.Lexer{B: b[:min(len(b), most+len("endstream"))]}
	l.SkipWhite()
	return bytes.HasPrefix(b[l.P:], []byte("endstream"))
}
