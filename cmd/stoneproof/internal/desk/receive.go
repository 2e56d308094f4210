package desk

import (
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
)

// received is a form that came in: its files in their slots, and its fields.
type received struct {
	files   [slots]*File
	asked   asked
	take    string // the slot to take a file off
	dropped bool   // the files came together, in no order
}

var slotNames = [slots]string{"front", "back"}

// tooMuch is a request that is over a ceiling.
type tooMuch struct{ what string }

func (e tooMuch) Error() string { return e.what }

// receive reads a form into memory, part by part: nothing of it touches the disk, and
// no part takes more than its ceiling.
func (d *Desk) receive(w http.ResponseWriter, r *http.Request) (received, error) {
	r.Body = http.MaxBytesReader(w, r.Body, slots*d.ceilings.FileBytes+d.ceilings.FormBytes)
	parts, err := r.MultipartReader()
	if err != nil {
		return received{}, fmt.Errorf("this is not the desk's form: %w", err)
	}
	var got received
	room := d.ceilings.FormBytes
	for {
		part, err := parts.NextRawPart()
		if errors.Is(err, io.EOF) {
			return got, nil
		}
		if err != nil {
			return received{}, tooMuchOr(err)
		}
		if room, err = d.part(part, &got, room); err != nil {
			return received{}, tooMuchOr(err)
		}
	}
}

// part takes in one part of a form and gives back what room is left for fields.
func (d *Desk) part(part *multipart.Part, got *received, room int64) (int64, error) {
	for slot, name := range slotNames {
		if part.FormName() != name {
			continue
		}
		if part.FileName() == "" {
			return room, nil // no file was chosen
		}
		if got.files[slot] != nil {
			return room, tooMuch{"one card at a time: a front and a back"}
		}
		b, err := read(part, d.ceilings.FileBytes)
		if err == nil && int64(len(b)) > d.ceilings.FileBytes {
			err = tooMuch{fmt.Sprintf("the %s has more than %d MB, which is all that the desk takes", name, d.ceilings.FileBytes>>20)}
		}
		// The name is only ever shown: FileName has dropped the folders before it.
		got.files[slot] = &File{part.FileName(), b}
		return room, err
	}
	text, err := read(part, room)
	if room -= int64(len(text)); err == nil && room < 0 {
		err = tooMuch{"the form holds more than a ticket"}
	}
	switch into, known := got.asked.fields()[part.FormName()]; {
	case known:
		*into = string(text)
	case part.FormName() == "take":
		got.take = string(text)
	case part.FormName() == "dropped":
		got.dropped = true
	}
	return room, err
}

// read reads up to most bytes, and one more to tell that there are more.
func read(r io.Reader, most int64) ([]byte, error) { return io.ReadAll(io.LimitReader(r, most+1)) }

func tooMuchOr(err error) error {
	var over *http.MaxBytesError
	if errors.As(err, &over) {
		return tooMuch{"that is more than the desk takes: a front and a back of a card"}
	}
	return err
}
