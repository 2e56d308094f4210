package art

import (
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// micrometres in a point of display space: 1/72 in, UserUnit already applied.
const umPerPoint = 25400.0 / 72

// placePage places the trim of a PDF page: by its TrimBox, or its ArtBox in the
// absence of one (ISO 32000-1, 14.11.2; a page has one or the other), cut to the
// MediaBox; else by its cutting marks or its size, which is our own reading.
func (s *Side) placePage(t rules.Ticket) {
	s.scale = grid{stepX: umPerPoint, stepY: umPerPoint}
	box, placing := s.Page.Trim, ByTrimBox
	if box == nil {
		box, placing = s.Page.Art, ByArtBox
	}
	if box != nil {
		if cut, ok := cutTo(*box, s.Page.Media); ok {
			s.placeByBox(cut, placing, t)
			return
		}
	}
	s.placeBySize(t)
}

// placeByBox takes the trim from a box, unless the box is plainly the card with
// its bleed: then the trim is read one bleed inside it, and what the page
// states stays wrong.
func (s *Side) placeByBox(box pdf.Rect, placing Placing, t rules.Ticket) {
	s.Stated = sizeOf(box)
	s.Basis = rules.Read
	trim := lyingAs(t.Trim, s.Stated)
	tolerance := t.Limits.TrimTolerance
	if t.Bleed > 0 && near(s.Stated, trim.Grow(t.Bleed), tolerance) && !near(s.Stated, trim, tolerance) {
		b := t.Bleed.Points()
		box = pdf.Rect{X0: box.X0 + b, Y0: box.Y0 + b, X1: box.X1 - b, Y1: box.Y1 - b}
		placing, s.Basis = ByTrimBoxInset, rules.Inferred
	}
	s.placeAt(box, placing)
}

// placeAt sets the trim to a box of display space.
func (s *Side) placeAt(box pdf.Rect, placing Placing) {
	s.Placing, s.Trim = placing, sizeOf(box)
	s.scale.originX, s.scale.originY = box.X0*umPerPoint, box.Y0*umPerPoint
	s.Room = s.room()
}

// room is how far the file reaches beyond the trim: to the MediaBox, or to a
// BleedBox that holds the trim and stops before it. A CropBox only clips the
// view and has no meaning for the physical page (ISO 32000-1, Table 30).
func (s *Side) room() rules.Edges {
	room := s.roomTo(s.Page.Media)
	if s.Page.Bleed == nil {
		return room
	}
	b := s.roomTo(*s.Page.Bleed)
	if b.Least() < 0 { // does not hold the trim: judged by page-boxes
		return room
	}
	return rules.Edges{
		Top: min(room.Top, b.Top), Right: min(room.Right, b.Right),
		Bottom: min(room.Bottom, b.Bottom), Left: min(room.Left, b.Left),
	}
}

// roomTo is how far a box of display space lies beyond the trim on each edge.
func (s *Side) roomTo(r pdf.Rect) rules.Edges {
	b := s.Box(r)
	return rules.Edges{Top: -b.Y, Left: -b.X, Right: b.Right() - s.Trim.W, Bottom: b.Bottom() - s.Trim.H}
}

// RoomTo is how far a box of the page reaches beyond the trim on each edge;
// negative where it stops inside.
func (s *Side) RoomTo(r pdf.Rect) rules.Edges { return s.roomTo(r) }

// placeBySize reads the trim from marks or from the page's size.
func (s *Side) placeBySize(t rules.Ticket) {
	s.Basis = rules.Inferred
	media := sizeOf(s.Page.Media)
	s.Stated = media
	f, ok := fitSize(media, t, t.Limits.TrimTolerance)
	if ok && f.placing != ByOtherSize {
		s.Placing = f.placing
		s.centred(media, f.trim)
		return
	}
	if box, found := s.marked(t); found {
		s.placeAt(box, ByMarks)
		s.Stated = s.Trim
		return
	}
	if c := s.Page.Crop; c != nil && s.placeByCrop(*c, t) {
		return
	}
	if ok {
		s.Placing = f.placing
		s.centred(media, f.trim)
	}
}

// placeByCrop reads the trim from the part of the page that is shown, where the
// whole of it tells nothing.
func (s *Side) placeByCrop(crop pdf.Rect, t rules.Ticket) bool {
	cut, ok := cutTo(crop, s.Page.Media)
	if !ok {
		return false
	}
	f, ok := fitSize(sizeOf(cut), t, t.Limits.TrimTolerance)
	if !ok || f.placing == ByOtherSize {
		return false
	}
	s.Stated = sizeOf(cut)
	s.placeAt(inset(cut, f.trim), f.placing)
	return true
}

// inset is a box of the size of trim in the middle of r.
func inset(r pdf.Rect, trim rules.Size) pdf.Rect {
	dx := (r.X1 - r.X0 - trim.W.Points()) / 2
	dy := (r.Y1 - r.Y0 - trim.H.Points()) / 2
	return pdf.Rect{X0: r.X0 + dx, Y0: r.Y0 + dy, X1: r.X1 - dx, Y1: r.Y1 - dy}
}

// cutTo is the part of r inside media: boxes that reach past the MediaBox are
// effectively cut to it (ISO 32000-1, 14.11.2).
func cutTo(r, media pdf.Rect) (pdf.Rect, bool) {
	cut := pdf.Rect{
		X0: max(r.X0, media.X0), Y0: max(r.Y0, media.Y0),
		X1: min(r.X1, media.X1), Y1: min(r.Y1, media.Y1),
	}
	return cut, cut.X1 > cut.X0 && cut.Y1 > cut.Y0
}

func sizeOf(r pdf.Rect) rules.Size {
	return rules.Size{W: length((r.X1 - r.X0) * umPerPoint), H: length((r.Y1 - r.Y0) * umPerPoint)}
}
