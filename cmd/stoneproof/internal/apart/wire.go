package apart

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"io"
	"time"

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
	See      bool // pictures are wanted, too
}

func requestOf(j *checks.Judge, path string) request {
	q := request{Path: path, Ticket: j.Ticket, Ceilings: j.Ceilings, Strict: j.Strict}
	for _, c := range j.Checks {
		q.Rules = append(q.Rules, c.Rule)
	}
	return q
}

// time is how long the child may take: pictures have a time of their own, half of the
// deadline.
func (q request) time() time.Duration {
	if q.See {
		return q.Ceilings.Deadline * 3 / 2
	}
	return q.Ceilings.Deadline
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
	Pictures  []picture
}

// picture is a rules.Picture on its way.
type picture struct {
	Side int
	Box  rules.Box
	Why  string
	W, H int
	Pix  []byte // RGBA, 4 bytes a pixel
}

func sent(p rules.Picture) picture {
	out := picture{Side: p.Side, Box: p.Box, Why: p.Why}
	if p.Image == nil {
		return out
	}
	size := p.Image.Bounds().Size()
	plain := image.NewRGBA(image.Rectangle{Max: size})
	draw.Draw(plain, plain.Rect, p.Image, p.Image.Bounds().Min, draw.Src)
	out.W, out.H, out.Pix = size.X, size.Y, plain.Pix
	return out
}

// received is the picture as it was, or says why not.
func (p picture) received() rules.Picture {
	out := rules.Picture{Side: p.Side, Box: p.Box, Why: p.Why}
	switch {
	case p.W <= 0 || p.H <= 0:
	case p.W > len(p.Pix) || p.H > len(p.Pix) || 4*p.W*p.H != len(p.Pix):
		out.Why = "The picture of this side was lost on its way; please report it."
	default:
		out.Image = &image.RGBA{Pix: p.Pix, Stride: 4 * p.W, Rect: image.Rect(0, 0, p.W, p.H)}
	}
	return out
}

// mostFrame bounds a frame. A report of 500 sides that all fail by every rule has
// some 10 MB, the pictures of a file 128 MB by the ceilings.
const mostFrame = 160 << 20

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
