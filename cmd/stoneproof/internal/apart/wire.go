package apart

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"github.com/fxamacker/cbor/v2"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/rules"
)

// settings are the first thing that a child is told.
type settings struct {
	Memory int64 // bytes that it may hold
}

// request asks a child to judge a file: what a judge is made of, and the path.
type request struct {
	Path     string
	Ticket   rules.Ticket
	Rules    []string // whose checks are run
	Ceilings art.Ceilings
	Strict   bool
}

func requestOf(j *checks.Judge, path string) request {
	q := request{Path: path, Ticket: j.Ticket, Ceilings: j.Ceilings, Strict: j.Strict}
	for _, c := range j.Checks {
		q.Rules = append(q.Rules, c.Rule)
	}
	return q
}

// checks are those of the rules asked for, in the order in which they run.
func (q request) checks() ([]*checks.Check, error) {
	byRule := map[string]*checks.Check{}
	for _, c := range checks.All() {
		byRule[c.Rule] = c
	}
	var chosen []*checks.Check
	for _, rule := range q.Rules {
		c, known := byRule[rule]
		if !known {
			return nil, fmt.Errorf("no check of rule %q", rule)
		}
		chosen = append(chosen, c)
	}
	return chosen, nil
}

// answer is what a child says: while it starts how far it is, then a report for
// each request.
type answer struct {
	Compiling bool
	Ready     bool
	Report    *rules.FileReport
}

// mostFrame bounds a frame. A report of 500 sides that all fail by every rule has
// some 10 MB.
const mostFrame = 64 << 20

// errGarbled wraps what is wrong with a frame that came whole, or never can.
var errGarbled = errors.New("garbled")

// send writes v as one frame.
func send(w io.Writer, v any) error {
	body, err := encoding.Marshal(v)
	if err != nil {
		return err
	}
	if len(body) > mostFrame {
		return fmt.Errorf("%d MB are too many for a frame", len(body)>>20)
	}
	frame := binary.BigEndian.AppendUint32(make([]byte, 0, 4+len(body)), uint32(len(body)))
	_, err = w.Write(append(frame, body...))
	return err
}

// receive reads one frame into v. Where nothing more comes the error is io.EOF.
func receive(r io.Reader, v any) error {
	var head [4]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return err
	}
	size := binary.BigEndian.Uint32(head[:])
	if size > mostFrame {
		return fmt.Errorf("%w: %d bytes in one frame", errGarbled, size)
	}
	var body bytes.Buffer // grows with what comes, not with what was promised
	if _, err := io.CopyN(&body, r, int64(size)); err != nil {
		return io.ErrUnexpectedEOF
	}
	if err := decoding.Unmarshal(body.Bytes(), v); err != nil {
		return fmt.Errorf("%w: %w", errGarbled, err)
	}
	return nil
}

// Modes of CBOR in which all that Go can hold crosses whole: strings of any bytes,
// numbers that are none.
var (
	encoding = must(cbor.EncOptions{}.EncMode())
	decoding = must(cbor.DecOptions{
		UTF8:              cbor.UTF8DecodeInvalid,
		DupMapKey:         cbor.DupMapKeyEnforcedAPF,
		ExtraReturnErrors: cbor.ExtraDecErrorUnknownField,
		MaxArrayElements:  1 << 22,
	}.DecMode())
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err) // options that contradict each other
	}
	return v
}
