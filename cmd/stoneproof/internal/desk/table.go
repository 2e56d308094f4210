package desk

import (
	"context"
	"sync"

	"stoneproof/rules"
)

// slots are where files lie: a front and a back.
const (
	front = iota
	back
	slots
)

// table is what lies on the desk. A later job ends an earlier one.
type table struct {
	mu     sync.Mutex
	files  [slots]*File
	asked  asked
	judged *Judged
	end    context.CancelFunc // of the job at work; nil where none is
	turn   int                // which job is the latest
}

// lay puts files on the table and says what is asked; nil files stay as they lie.
// It ends the job at work.
func (t *table) lay(ctx context.Context, files [slots]*File, a asked) (all []File, turn int, _ context.Context) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.end != nil {
		t.end()
	}
	ctx, t.end = context.WithCancel(ctx)
	for i, f := range files {
		if f != nil {
			t.files[i] = f
		}
	}
	t.asked = a
	t.turn++
	for _, f := range t.files {
		if f != nil {
			all = append(all, *f)
		}
	}
	return all, t.turn, ctx
}

// keep keeps what came of a job, if no later one was begun.
func (t *table) keep(turn int, j Judged) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	if turn != t.turn {
		return false
	}
	t.judged, t.end = &j, nil
	return true
}

// take takes the file off a slot.
func (t *table) take(slot int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.files[slot], t.judged = nil, nil
}

// clear takes everything off.
func (t *table) clear() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.end != nil {
		t.end()
	}
	t.files, t.asked, t.judged, t.end = [slots]*File{}, asked{}, nil, nil
	t.turn++
}

// seen is what lies on the table now.
func (t *table) seen() (names [slots]string, a asked, j *Judged) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for i, f := range t.files {
		if f != nil {
			names[i] = f.Name
		}
	}
	return names, t.asked, t.judged
}

// swapped puts a front and a back that were dropped together into their places, if
// their names say that they lie the other way.
func swapped(t rules.Ticket, files [slots]*File) [slots]*File {
	if files[front] == nil || files[back] == nil {
		return files
	}
	_, firstIsBack, firstSays := t.PairOf(files[front].Name)
	_, secondIsBack, secondSays := t.PairOf(files[back].Name)
	if firstSays && firstIsBack && !(secondSays && secondIsBack) || secondSays && !secondIsBack && !(firstSays && !firstIsBack) {
		files[front], files[back] = files[back], files[front]
	}
	return files
}
