package plates

import (
	"fmt"
	"slices"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/syntax"
	"stoneproof/checks/art/pdf/write"
)

// Options are the ceilings and means of [Separate].
type Options struct {
	// Estimate turns RGB pixels, 3 bytes each and much like sRGB, into CMYK, 4
	// bytes each with 255 for full ink. Nil stands for the standard's own formula
	// without a profile, all gray to the black. Either way such ink is approximate.
	Estimate func(cmyk, rgb []byte)
	Limits   Limits
}

// Job is a page that is ready to be rendered as plates.
type Job struct {
	PDF   []byte   // one page for each plate, in grey
	Names []string // "cyan", "magenta", "yellow", "black", then spot colours as the file names them
	// Approximate names in plain words, each once, what the plates do not show
	// faithfully.
	Approximate []string
	Partial     bool // something that paints is missing from the plates
	// Solids are for each spot colour the process inks, 0 to 1, that look like all of
	// it, as the file has it (8.6.6.4): for showing, never for printing.
	Solids [][4]float64

	media [4]float64 // MediaBox in user space
	unit  float64    // UserUnit
}

// Separate rewrites page n, counted from 1. Errors are those of the document, or
// wrap [ErrTooMuch]; what is merely odd is drawn as readers do, and what cannot be
// separated is named in Approximate.
func Separate(doc *pdf.Document, n int, o Options) (job *Job, err error) {
	defer func() {
		if r := recover(); r != nil {
			job, err = nil, fmt.Errorf("%w: page %d: %v", pdf.ErrDamaged, n, r)
		}
	}()
	return rewrite(doc, n, o)
}

// rewrite is Separate without a net: the parser of the source may panic.
func rewrite(doc *pdf.Document, n int, o Options) (*Job, error) {
	page, err := doc.Page(n)
	if err != nil {
		return nil, err
	}
	j := newSeparation(doc, page, o)
	job := &Job{media: page.RawMedia, unit: page.UserUnit}
	root, tree := j.file.Reserve(), j.file.Reserve()
	var kids []string
	plates := processPlates()
	for i := 0; i < len(plates); i++ { // the list grows as spot colours are met
		kids = append(kids, j.platePage(plates[i], write.Reference(tree)))
		job.Names = append(job.Names, plates[i].title())
		for _, name := range j.spots[len(plates)-len(processNames):] {
			plates = append(plates, spotPlate(name))
		}
	}
	j.file.Set(tree, fmt.Sprintf("<</Type/Pages/Count %d/Kids[%s]>>", len(kids), strings.Join(kids, " ")))
	j.file.Set(root, "<</Type/Catalog/Pages "+write.Reference(tree)+">>")
	made := j.file.Bytes("/Root " + write.Reference(root))
	if j.file.Full() {
		return nil, fmt.Errorf("%w: its plates take more than %d bytes", ErrTooMuch, o.Limits.OutputBytes)
	}
	job.Solids = j.solids
	job.PDF, job.Approximate, job.Partial = made, j.causes.list, j.causes.partial
	return job, nil
}

// separation makes all plates of one page. It owns the budgets and what plates share.
type separation struct {
	doc      *pdf.Document
	page     *pdf.Page
	estimate func(cmyk, rgb []byte)
	limits   Limits
	file     *write.File
	source   *write.Source // what the plates take over from the page's document
	causes   causes
	spots    []string // spot colours met so far, in order
	solids   [][4]float64
	table    map[string]operator

	operators int   // left
	decoded   int64 // bytes left to decode
	held      int64 // bytes left for samples

	contents map[int][]byte // decoded streams by object number
	spaces   map[int]*space // colour spaces by object number
	drawn    map[string]*drawn
	fonts    map[int]*glyphs
	pictures map[imageKey]*picture
	blending struct{ transparent, device bool } // in an RGB blending space: something see-through, something not RGB
}

func newSeparation(doc *pdf.Document, page *pdf.Page, o Options) *separation {
	lim := o.Limits
	file := write.NewFile(lim.OutputBytes)
	return &separation{
		doc: doc, page: page, estimate: o.Estimate, limits: lim,
		file: file, source: file.From(doc), causes: causes{most: lim.Causes}, table: operators(),
		operators: lim.Operators, decoded: lim.DecodedBytes, held: lim.ImageBytes,
		contents: map[int][]byte{}, spaces: map[int]*space{}, drawn: map[string]*drawn{},
		fonts: map[int]*glyphs{}, pictures: map[imageKey]*picture{},
	}
}

// content decodes a stream within the budget, once.
func (j *separation) content(o types.Object) []byte {
	id := syntax.ObjectNumber(o)
	if b, ok := j.contents[id]; ok && id != 0 {
		return b
	}
	b, err := j.doc.StreamBytes(o, j.decoded)
	if err != nil {
		j.causes.add(causeDecode)
	}
	j.decoded -= int64(len(b))
	j.contents[id] = b
	return b
}

// afford takes n operators off the budget.
func (j *separation) afford(n int) bool {
	if j.operators -= n; j.operators < 0 || j.file.Full() {
		j.causes.add(causeMuch)
		return false
	}
	return true
}

// meetSpots takes note of the spot colours of a space that something is painted in.
func (j *separation) meetSpots(s *space) {
	for i, n := range s.names {
		switch {
		case n == "All" || n == "None" || processIndex(n) != notProcess || slices.Contains(j.spots, n):
		case len(j.spots)+len(processNames) >= j.limits.Plates:
			j.causes.add(causeSpots)
		default:
			j.spots = append(j.spots, n)
			j.solids = append(j.solids, s.solid(i))
		}
	}
}
