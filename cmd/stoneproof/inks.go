package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/report"
	"stoneproof/rules"
)

// inksFlags are the flags of inks, as they were typed.
type inksFlags struct {
	job            ticketFlags
	format, plates string
	ppi            int
}

// Resolutions at which plates may be asked for. Higher than the highest is
// finer than any card's press.
const (
	leastPPI = 36
	usualPPI = 300
	mostPPI  = 2400
)

func inksCommand(s *speaker) *cobra.Command {
	var f inksFlags
	c := &cobra.Command{
		Use:   "inks [flags] FILE",
		Short: "Tell how much of each ink a file lays down, and where most",
		Long: `Inks separates each side of a file into its printing plates and tells the mean
ink of each, the place with the most ink, and the colour spaces and fonts in use.

Exit status: 0, or 2 where the file cannot be opened or the command not run.`,
		Example: `  stoneproof inks card.pdf
  stoneproof inks --plates plates/ --ppi 600 card.pdf`,
		RunE: func(c *cobra.Command, args []string) error {
			return runInks(c.Context(), s, &f, args)
		},
	}
	set := c.Flags()
	set.SortFlags = false
	f.job.register(set)
	set.StringVar(&f.format, "format", "table", "`FORMAT` of the answer, table or json")
	set.StringVar(&f.plates, "plates", "", "write each plate as a picture into `FOLDER`")
	set.IntVar(&f.ppi, "ppi", usualPPI, "draw pages at `N` pixels per inch; pictures keep their own")
	return c
}

func runInks(ctx context.Context, s *speaker, f *inksFlags, args []string) error {
	switch {
	case len(args) != 1:
		return withHint(errors.New("inks takes one file"), "stoneproof inks card.pdf")
	case f.format != "table" && f.format != "json":
		return withHint(fmt.Errorf("unknown format %q", f.format), "use table or json")
	case f.ppi < leastPPI || f.ppi > mostPPI:
		return fmt.Errorf("--ppi %d is out of range: %d to %d", f.ppi, leastPPI, mostPPI)
	}
	ticket, err := f.job.ticket()
	if err != nil {
		return err
	}
	if _, err := os.Stat(args[0]); err != nil {
		return fmt.Errorf("failed to open %q: %w", args[0], cause(err))
	}
	renderer := render.Start(render.Options{OnCompile: s.compiling})
	defer renderer.Close()
	// Who asks for a file's inks waits for them; a card takes a second at most.
	ceilings := art.DefaultCeilings()
	ctx, cancel := context.WithTimeout(ctx, ceilings.Deadline)
	defer cancel()
	a, err := art.Opener{Ceilings: ceilings, Renderer: renderer}.Open(args[0])
	if err != nil {
		return unopened(args[0], err)
	}
	defer a.Close()
	a.Place(ticket)
	sides, err := f.sides(ctx, a, ticket)
	if err != nil {
		return err
	}
	if f.format == "json" {
		return report.InksJSON(s.out, sides)
	}
	return report.Inks(s.out, args[0], sides, ticket.Unit)
}

// unopened tells why a file has no inks to tell.
func unopened(path string, err error) error {
	var fault *art.Fault
	if errors.As(err, &fault) && fault.Do != "" {
		return withHint(fmt.Errorf("failed to open %q: %s", path, fault.What), fault.Do)
	}
	return fmt.Errorf("failed to open %q: %w", path, err)
}

func (f *inksFlags) sides(ctx context.Context, a *art.Art, t rules.Ticket) ([]report.InkSide, error) {
	var sides []report.InkSide
	for _, side := range a.Sides {
		p, err := side.Plates(ctx, art.PartWhole, float64(f.ppi))
		if err != nil {
			return nil, fmt.Errorf("failed to separate side %d of %q: %w", side.Number, a.Path, err)
		}
		if f.plates != "" {
			if err := writePlates(f.plates, a.Path, side.Number, p); err != nil {
				return nil, err
			}
		}
		sides = append(sides, inkSide(side, p, t))
		side.Release()
	}
	return sides, nil
}

func inkSide(side *art.Side, p *art.Plates, t rules.Ticket) report.InkSide {
	s := report.InkSide{Number: side.Number, Approximate: p.Approximate}
	for i, percent := range p.Coverage() {
		s.Coverage = append(s.Coverage, report.Coverage{Ink: p.Names[i], Percent: percent})
	}
	if heavy := p.Heaviest(t.Limits.InkArea); heavy.Sum > 0 {
		s.SumMax, s.SumAt = heavy.Sum, &heavy.Box
	}
	whole := rules.Size{W: rules.Length(float64(p.W) * p.PxW), H: rules.Length(float64(p.H) * p.PxH)}
	s.Size = fmt.Sprintf("the whole picture, %d × %d px", p.W, p.H)
	if side.Page != nil {
		s.Size = "the whole page, " + rules.Size{W: whole.W.About(t.Unit), H: whole.H.About(t.Unit)}.In(t.Unit)
		s.Spaces, s.Fonts = inUse(side)
	}
	return s
}

// inUse lists the colour spaces and fonts that a page paints with.
func inUse(side *art.Side) (spaces, fonts []string) {
	content, err := side.Content()
	if err != nil {
		return nil, nil
	}
	add := func(list *[]string, name string) {
		if !slices.Contains(*list, name) {
			*list = append(*list, name)
		}
	}
	for _, use := range content.Spaces {
		add(&spaces, use.Space.String())
	}
	for _, font := range content.Fonts {
		state := "embedded"
		if !font.Embedded {
			state = "not embedded"
		}
		name := font.Name
		if _, after, tagged := strings.Cut(name, "+"); tagged {
			name = after
		}
		if name == "" {
			name = "without a name"
		}
		add(&fonts, fmt.Sprintf("%s (%s, %s)", name, font.Subtype, state))
	}
	return spaces, fonts
}

// writePlates writes each plate as a grey picture, ink dark on white paper.
func writePlates(folder, path string, side int, p *art.Plates) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return fmt.Errorf("failed to make %q: %w", folder, cause(err))
	}
	base := filepath.Base(path)
	base = strings.TrimSuffix(base, filepath.Ext(base))
	used := map[string]bool{}
	for i, ink := range p.Ink {
		name := fmt.Sprintf("%s-side-%d-%s", base, side, fileWord(p.Names[i]))
		for used[name] {
			name += "-"
		}
		used[name] = true
		var b bytes.Buffer
		grey := image.NewGray(image.Rect(0, 0, p.W, p.H))
		for at, v := range ink {
			grey.Pix[at] = 255 - v
		}
		if err := png.Encode(&b, grey); err != nil {
			return err
		}
		if err := writeWhole(filepath.Join(folder, name+".png"), b.Bytes()); err != nil {
			return err
		}
	}
	return nil
}

// fileWord makes an ink's name fit to be part of a file's: letters and digits
// stay, anything else, which may be a path, becomes a dash.
func fileWord(name string) string {
	const most = 60
	word := []rune(strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			return r
		}
		return '-'
	}, name))
	return string(word[:min(len(word), most)])
}
