package checks

import (
	"context"
	"fmt"
	"time"

	"stoneproof/checks/art"
	"stoneproof/rules"
)

// SeeFile judges the file at path as File does, and gives a picture of each side as
// well, drawn from what the checks have drawn already. There are no pictures of a
// file that could not be opened; a side that could not be drawn, or is one too many,
// has its picture say so in words. Pictures have a time of their own, half of the
// file's deadline, so that drawing does not make a file late.
func (j *Judge) SeeFile(ctx context.Context, path string) (rules.FileReport, []rules.Picture) {
	return j.see(ctx, onDisk(path))
}

// SeeBytes judges and sees, as SeeFile does, a file that is held in memory and called
// by name. The bytes must not change: work that was left behind may still read them.
func (j *Judge) SeeBytes(ctx context.Context, name string, b []byte) (rules.FileReport, []rules.Picture) {
	return j.see(ctx, inMemory(name, b))
}

func (j *Judge) see(ctx context.Context, from source) (rules.FileReport, []rules.Picture) {
	r := j.within(ctx, from, &album{
		most: j.Ceilings.Pictures, pixels: j.Ceilings.PicturesPixels, time: j.Ceilings.Deadline / 2,
	})
	return r.report, r.pictures
}

// source is where a file's bytes come from.
type source struct {
	name string
	open func(art.Opener) (*art.Art, error)
}

func onDisk(path string) source {
	return source{path, func(o art.Opener) (*art.Art, error) { return o.Open(path) }}
}

func inMemory(name string, b []byte) source {
	return source{name, func(o art.Opener) (*art.Art, error) { return o.Read(name, b) }}
}

// album gathers pictures of a file's sides within its ceilings; its zero value wants
// none.
type album struct {
	most, pixels int           // sides, and pixels of all pictures together
	time         time.Duration // left for drawing them
	pictures     []rules.Picture
}

// add sees a side, after it was judged and before it is let go of.
func (l *album) add(ctx context.Context, a *art.Art, s *art.Side) {
	switch {
	case l.most == 0:
	case len(l.pictures) >= l.most:
		l.leaveOut(s, fmt.Sprintf("Only the first %d sides of a file are shown.", l.most))
	case l.time <= 0:
		l.leaveOut(s, "The file takes too long to draw for this side to be shown.")
	default:
		l.pictures = append(l.pictures, l.see(ctx, s, l.pixels/min(len(a.Sides), l.most)))
	}
}

func (l *album) leaveOut(s *art.Side, why string) {
	l.pictures = append(l.pictures, rules.Picture{Side: s.Number, Why: why})
}

// see looks at a side. A panic over it is no reason to lose what was judged.
func (l *album) see(ctx context.Context, s *art.Side, pixels int) (p rules.Picture) {
	ctx, cancel := context.WithTimeout(ctx, l.time)
	began := time.Now()
	defer func() {
		cancel()
		l.time -= time.Since(began)
		if v := recover(); v != nil {
			p = rules.Picture{Side: s.Number, Why: fmt.Sprintf("The side could not be drawn: the drawing itself failed (%v); please report it.", v)}
		}
	}()
	return s.Look(ctx, pixels)
}
