package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/gif"
	"io"
)

// gifFacts is what a walk through the blocks of a GIF collects (GIF89a).
type gifFacts struct {
	b             []byte
	at            int
	width, height int    // of the logical screen, which is the picture as seen
	head          []byte // header and global colour table
	control       []byte // the graphic control block of the first picture
	frame         []byte // the first picture's blocks
	frames        int
	depth         int
	transparent   bool
}

const (
	gifExtension = 0x21
	gifPicture   = 0x2c
	gifTrailer   = 0x3b
	gifControl   = 0xf9
	gifHasTable  = 0x80
)

func openGIF(b []byte, lim Limits) (page, error) {
	f, err := walkGIF(b)
	if err != nil {
		return page{}, err
	}
	if err := lim.admit(uint64(f.width), uint64(f.height), 0); err != nil {
		return page{}, err
	}
	h := Header{
		Width: f.width, Height: f.height, Orientation: 1,
		Density: Density{Silence: "GIF has no density field"},
		Space:   RGB, Bits: f.depth, Palette: true, Alpha: f.transparent,
	}
	if f.frames > 1 {
		h.Notes = append(h.Notes, "animated: only the first picture is read")
	}
	return page{Header: h, memory: 6 * int64(f.width) * int64(f.height), decode: f.pixels}, nil
}

// walkGIF goes through all blocks to the trailer.
func walkGIF(b []byte) (gifFacts, error) {
	f := gifFacts{b: b}
	screen, ok := f.next(13)
	if !ok {
		return f, f.cutOff()
	}
	f.width, f.height = int(binary.LittleEndian.Uint16(screen[6:])), int(binary.LittleEndian.Uint16(screen[8:]))
	if f.width == 0 || f.height == 0 {
		return f, fmt.Errorf("%w: the GIF is %d × %d pixels", ErrDamaged, f.width, f.height)
	}
	if !f.table(screen[10]) {
		return f, f.cutOff()
	}
	f.head = b[:f.at]
	for {
		kind, ok := f.next(1)
		if !ok {
			return f, f.cutOff()
		}
		switch kind[0] {
		case gifTrailer:
			if f.frames == 0 {
				return f, fmt.Errorf("%w: the GIF holds no picture", ErrDamaged)
			}
			return f, nil
		case gifExtension:
			ok = f.extension()
		case gifPicture:
			ok = f.picture()
		default:
			return f, fmt.Errorf("%w: the GIF has a block of no known kind", ErrDamaged)
		}
		if !ok {
			return f, f.cutOff()
		}
	}
}

func (f *gifFacts) cutOff() error {
	return fmt.Errorf("%w: the GIF data end before the picture does", ErrCutOff)
}

func (f *gifFacts) next(n int) ([]byte, bool) {
	if n > len(f.b)-f.at {
		return nil, false
	}
	f.at += n
	return f.b[f.at-n : f.at], true
}

// table passes over a colour table, if flags say that there is one.
func (f *gifFacts) table(flags byte) bool {
	if flags&gifHasTable == 0 {
		return true
	}
	if f.frames == 0 {
		f.depth = 1 + int(flags&7)
	}
	_, ok := f.next(3 << (1 + flags&7))
	return ok
}

// blocks passes over data blocks up to the empty one.
func (f *gifFacts) blocks() bool {
	for {
		size, ok := f.next(1)
		if !ok {
			return false
		}
		if size[0] == 0 {
			return true
		}
		if _, ok := f.next(int(size[0])); !ok {
			return false
		}
	}
}

func (f *gifFacts) extension() bool {
	start := f.at - 1
	label, ok := f.next(1)
	if !ok || !f.blocks() {
		return false
	}
	if block := f.b[start:f.at]; label[0] == gifControl && f.frames == 0 && len(block) >= 8 {
		f.control = block
		f.transparent = block[3]&1 == 1
	}
	return true
}

func (f *gifFacts) picture() bool {
	start := f.at - 1
	d, ok := f.next(9)
	if !ok || !f.table(d[8]) {
		return false
	}
	if _, ok := f.next(1); !ok || !f.blocks() {
		return false
	}
	if f.frames == 0 {
		f.frame = f.b[start:f.at]
		x, y := binary.LittleEndian.Uint16(d), binary.LittleEndian.Uint16(d[2:])
		w, h := binary.LittleEndian.Uint16(d[4:]), binary.LittleEndian.Uint16(d[6:])
		if x > 0 || y > 0 || int(w) < f.width || int(h) < f.height {
			f.transparent = true // the rest of the screen shows through
		}
	}
	f.frames++
	return true
}

// pixels decodes the first picture, from a file made of it alone.
func (f *gifFacts) pixels() (*Pixels, error) {
	m, err := gif.Decode(io.MultiReader(
		bytes.NewReader(f.head), bytes.NewReader(f.control), bytes.NewReader(f.frame), bytes.NewReader([]byte{gifTrailer})))
	if err != nil {
		return nil, fmt.Errorf("%w: the GIF picture data do not hold together: %v", ErrDamaged, err)
	}
	p := newPixels(f.width, f.height, false)
	p.paint(m.(*image.Paletted))
	return p, nil
}
