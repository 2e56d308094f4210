package gang_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks/art/pdf/write"
	"stoneproof/checks/checktest"
	"stoneproof/checks/gang"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

func ticket(t *testing.T) rules.Ticket {
	t.Helper()
	tk, err := rules.Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return tk
}

func ask(t *testing.T) sheet.Ask {
	tk := ticket(t)
	return sheet.Ask{Sheet: rules.Size{W: rules.Inches(8.5), H: rules.Inches(11)}, Margin: sheet.PrinterMargin, Turn: sheet.LongEdge,
		Trim: tk.Trim, Bleed: tk.Bleed, Safe: tk.Safe, Unit: tk.Unit}
}

// laid is a sheet as a person may have laid it out: a plan, and what went wrong.
type laid struct {
	plan  sheet.Plan
	size  rules.Size
	scale map[int]float64 // of a front cell, about its middle
	extra []sheet.Mark    // more lines in front
	thick float64         // points, of all marks
	blank bool            // no marks at all
	words map[int]string  // another text on a front cell
}

func lay(t *testing.T, a sheet.Ask) *laid {
	t.Helper()
	p, err := sheet.Lay(a)
	if err != nil {
		t.Fatal(err)
	}
	return laidAs(a, p)
}

func laidAs(a sheet.Ask, p sheet.Plan) *laid {
	return &laid{plan: p, size: a.Sheet, scale: map[int]float64{}, thick: .25, words: map[int]string{}}
}

// card draws a card from its trim's lower left corner on, in points: paint and bleed, a
// word, a short rule under it such as a cutting mark might look like, and more words in
// two corners.
func card(word string, trim rules.Size, bleed rules.Length) string {
	b := bleed.Points()
	return fmt.Sprintf("0.2 0.4 0.5 rg %[1]g %[1]g %g %g re f 1 g BT /F 12 Tf 1 0 0 1 40 80 Tm (%s) Tj ET 0.5 w 40 72 m 70 72 l S BT /F 9 Tf 1 0 0 1 %g 20 Tm (below) Tj ET BT /F 9 Tf 1 0 0 1 %g %g Tm (above) Tj ET\n",
		-b, trim.W.Points()+2*b, trim.H.Points()+2*b, word, trim.W.Points()-50, trim.W.Points()-50, trim.H.Points()-25)
}

func (l *laid) face(cells []sheet.Cell, marks []sheet.Mark, word string, front bool) string {
	var b strings.Builder
	for i, c := range cells {
		scale, say := 1.0, word
		if s, ok := l.scale[i]; front && ok {
			scale = s
		}
		if w, ok := l.words[i]; front && ok {
			say = w
		}
		p := c.Painted()
		cx, cy := (c.Trim.X + c.Trim.W/2).Points(), (l.size.H - c.Trim.Y - c.Trim.H/2).Points()
		turn := map[int]string{0: "1 0 0 1", 90: "0 -1 1 0", 180: "-1 0 0 -1", 270: "0 1 -1 0"}[c.Turn]
		fmt.Fprintf(&b, "q %g %g %g %g re W n 1 0 0 1 %g %g cm %s 0 0 cm %g 0 0 %g 0 0 cm 1 0 0 1 %g %g cm %s Q\n",
			p.X.Points(), (l.size.H - p.Bottom()).Points(), p.W.Points(), p.H.Points(), cx, cy, turn, scale, scale,
			-l.plan.Trim.W.Points()/2, -l.plan.Trim.H.Points()/2, card(say, l.plan.Trim, l.plan.Bleed))
	}
	if front {
		marks = slices.Concat(marks, l.extra)
	}
	fmt.Fprintf(&b, "0 G %g w\n", l.thick)
	for _, m := range marks {
		x0, y0, x1, y1 := m.From, m.At, m.To, m.At
		if m.Upright {
			x0, y0, x1, y1 = m.At, m.From, m.At, m.To
		}
		fmt.Fprintf(&b, "%g %g m %g %g l S\n", x0.Points(), (l.size.H - y0).Points(), x1.Points(), (l.size.H - y1).Points())
	}
	return b.String()
}

func (l *laid) pdf() []byte {
	f := write.NewFile(1 << 24)
	root, tree := f.Reserve(), f.Reserve()
	font := f.Add("<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>")
	fronts, backs := l.plan.FrontMarks, l.plan.BackMarks
	if l.blank {
		fronts, backs = nil, nil
	}
	kids := ""
	for _, content := range []string{l.face(l.plan.Front, fronts, "the front", true), l.face(l.plan.Back, backs, "the back", false)} {
		kids += f.Add(fmt.Sprintf("<</Type/Page/Parent %s/MediaBox%s/Resources<</Font<</F %s>>>>/Contents %s>>",
			write.Reference(tree), write.Numbers(0, 0, l.size.W.Points(), l.size.H.Points()), font, f.Deflated("", []byte(content)))) + " "
	}
	f.Set(tree, "<</Type/Pages/Count 2/Kids["+kids+"]>>")
	f.Set(root, "<</Type/Catalog/Pages "+write.Reference(tree)+">>")
	return f.Bytes("/Root " + write.Reference(root))
}

func judge(t *testing.T, b []byte, turn sheet.Turn) rules.FileReport {
	t.Helper()
	return judgeOver(t, b, turn, rules.OverSide)
}

// judgeOver judges a sheet of cards that are turned over as told.
func judgeOver(t *testing.T, b []byte, turn sheet.Turn, over rules.TurnOver) rules.FileReport {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	a, k := ask(t), ticket(t)
	k.TurnOver = over
	r, _ := gang.Judge(t.Context(), path, gang.Want{Ticket: k, Sheet: a.Sheet, Margin: a.Margin, Renderer: checktest.NewJudge(t, rules.Order{}).Renderer,
		Sideways: func(s rules.Size) bool { return sheet.Ask{Sheet: s, Turn: turn}.Sideways() },
		Places: func(s rules.Size) (places []rules.Box) {
			a.Sheet = s
			p, err := sheet.Lay(a)
			if err != nil {
				return nil
			}
			for _, c := range p.Front {
				places = append(places, c.Trim)
			}
			return places
		}})
	return r
}

// said lists what is not right: rule, verdict, side.
func said(r rules.FileReport) []string {
	list := []string{}
	for _, f := range r.Findings {
		if f.Verdict != rules.Pass {
			list = append(list, fmt.Sprintf("%s %s %d", f.Rule, f.Verdict, f.Side))
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// corners are marks of its own for every card, long from the bleed outwards, as many
// programs draw them.
func corners(l *laid, long rules.Length) (marks []sheet.Mark) {
	for _, c := range l.plan.Front {
		b := c.Painted()
		for _, x := range []rules.Length{c.Trim.X, c.Trim.Right()} {
			marks = append(marks, sheet.Mark{Upright: true, At: x, From: b.Y - long, To: b.Y}, sheet.Mark{Upright: true, At: x, From: b.Bottom(), To: b.Bottom() + long})
		}
		for _, y := range []rules.Length{c.Trim.Y, c.Trim.Bottom()} {
			marks = append(marks, sheet.Mark{At: y, From: b.X - long, To: b.X}, sheet.Mark{At: y, From: b.Right(), To: b.Right() + long})
		}
	}
	return marks
}

// Each fault is found, by its rule alone; what is nearly one is not.
func TestSheets(t *testing.T) {
	far := func(l *laid, d rules.Length) { l.plan.Front[2].Trim.X += d } // its marks stay
	for _, c := range []struct {
		name  string
		ask   func(*sheet.Ask)
		wrong func(*laid)
		want  []string
	}{
		{name: "as planned"},
		{name: "turned on the short edge", ask: func(a *sheet.Ask) { a.Turn = sheet.ShortEdge }},
		{name: "butted", ask: func(a *sheet.Ask) { a.Gap.Kind = sheet.Butted }},
		{name: "lying cards", ask: func(a *sheet.Ask) { a.Up = sheet.Up{Columns: 3, Rows: 2} }},
		{name: "a gap of two bleeds", ask: func(a *sheet.Ask) { a.Gap = sheet.Gap{Kind: sheet.FixedGap, Wide: rules.Inches(.25)} }},
		{name: "a gap of one bleed", ask: func(a *sheet.Ask) {
			a.Bleed = rules.Inches(.06)
			a.Gap = sheet.Gap{Kind: sheet.FixedGap, Wide: rules.Inches(.125)}
		}, want: []string{"sheet-gaps fail 1", "sheet-gaps fail 2"}},
		{name: "a mark on a card", wrong: func(l *laid) {
			l.extra = []sheet.Mark{{Upright: true, At: rules.Inches(2), From: rules.Inches(1), To: rules.Inches(1.2)}}
		}, want: []string{"sheet-marks fail 1"}},
		{name: "a mark that begins in the bleed", wrong: func(l *laid) { l.plan.FrontMarks[0].To += rules.MM(1) }, want: []string{"sheet-marks fail 1"}},
		{name: "a mark that begins at the bleed", wrong: func(l *laid) { l.plan.FrontMarks[0].To += sheet.MarkClear }},
		{name: "a card shifted by 0.5 mm", wrong: func(l *laid) { far(l, rules.MM(.5)) }, want: []string{"sheet-marks fail 1"}},
		{name: "a card shifted by 0.2 mm", wrong: func(l *laid) { far(l, rules.MM(.2)) }},
		{name: "a card at 98 %", wrong: func(l *laid) { l.scale[4] = .98 }, want: []string{"sheet-fit fail 1"}},
		{name: "a card at 99.7 %", wrong: func(l *laid) { l.scale[4] = .997 }},
		{name: "a back upside down", wrong: func(l *laid) { l.plan.Back[5].Turn = 180 }, want: []string{"sheet-turn fail 2"}},
		{name: "a front and its back upside down", wrong: func(l *laid) { l.plan.Front[5].Turn, l.plan.Back[5].Turn = 180, 180 }},
		{name: "all backs upside down", wrong: func(l *laid) {
			for i := range l.plan.Back {
				l.plan.Back[i].Turn = 180
			}
		}, want: []string{"sheet-turn warn 2"}},
		{name: "a missing mark", wrong: func(l *laid) { l.plan.FrontMarks = l.plan.FrontMarks[1:] }, want: []string{"sheet-marks fail 1"}},
		{name: "a mark off by 0.4 mm", wrong: func(l *laid) { l.plan.FrontMarks[2].At += rules.MM(.4) }, want: []string{"sheet-marks fail 1"}},
		{name: "a mark off by 0.2 mm", wrong: func(l *laid) { l.plan.FrontMarks[2].At += rules.MM(.2) }},
		{name: "marks of its own for every card", wrong: func(l *laid) { l.extra = corners(l, rules.MM(3)) }},
		{name: "those alone", wrong: func(l *laid) { l.plan.FrontMarks = corners(l, rules.MM(3)) }},
		{name: "those alone, into the neighbours' bleed", wrong: func(l *laid) { l.plan.FrontMarks = corners(l, rules.MM(8)) },
			want: []string{"sheet-fit warn 1", "sheet-marks fail 1"}},
		{name: "thick marks", wrong: func(l *laid) { l.thick = 1.5 }, want: []string{"sheet-marks warn 1", "sheet-marks warn 2"}},
		{name: "marks of one point", wrong: func(l *laid) { l.thick = 1 }},
		{name: "no marks", wrong: func(l *laid) { l.blank = true }, want: []string{"sheet-marks fail 1", "sheet-marks fail 2"}},
		{name: "backs moved by 1 mm", ask: func(a *sheet.Ask) { a.Shift.Right = rules.MM(1) }, want: []string{"sheet-turn fail 2"}},
		{name: "backs moved by 0.2 mm", ask: func(a *sheet.Ask) { a.Shift.Right = rules.MM(.2) }},
		{name: "out of the printer's reach", ask: func(a *sheet.Ask) {
			a.Margin = 0
			a.Gap = sheet.Gap{Kind: sheet.FixedGap, Wide: rules.Inches(.9)}
		}, want: []string{"sheet-fit fail 1", "sheet-fit fail 2"}},
		{name: "another sheet", ask: func(a *sheet.Ask) { a.Sheet = rules.Size{W: rules.MM(210), H: rules.MM(297)} }, want: []string{"sheet-fit fail 1", "sheet-fit fail 2"}},
		{name: "another design among them", wrong: func(l *laid) { l.words[1], l.words[3] = "other", "other" }},
		{name: "a card that lost its name", wrong: func(l *laid) { l.words[1] = "" }, want: []string{"sheet-fit warn 1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := ask(t)
			if c.ask != nil {
				c.ask(&a)
			}
			l := lay(t, a)
			if c.wrong != nil {
				c.wrong(l)
			}
			r := judge(t, l.pdf(), a.Turn)
			if c.want == nil {
				c.want = []string{}
			}
			if diff := cmp.Diff(c.want, said(r)); diff != "" {
				t.Error(diff)
				for _, f := range r.Findings {
					t.Logf("%s %s %d: %s", f.Rule, f.Verdict, f.Side, f.Message)
				}
			}
		})
	}
}

// Backs stand as the ticket says that the cards are turned over.
func TestBacksStandAsCardsAreTurned(t *testing.T) {
	half := func(l *laid) {
		for i := range l.plan.Back {
			l.plan.Back[i].Turn = (l.plan.Back[i].Turn + 180) % 360
		}
	}
	for _, turn := range []sheet.Turn{sheet.LongEdge, sheet.ShortEdge} {
		for _, over := range []rules.TurnOver{rules.OverSide, rules.OverHead} {
			a := ask(t)
			a.Turn = turn
			upright := lay(t, a)
			upside := lay(t, a)
			half(upside)
			right, wrong := upright, upside
			// A sheet turned over its upper edge lays a card's back head to foot.
			if over == rules.OverHead {
				right, wrong = upside, upright
			}
			if got := said(judgeOver(t, right.pdf(), turn, over)); len(got) > 0 {
				t.Errorf("turned on the %s edge, over its %s: %v", turn, over, got)
			}
			if got := said(judgeOver(t, wrong.pdf(), turn, over)); !slices.Equal(got, []string{"sheet-turn warn 2"}) {
				t.Errorf("turned on the %s edge, over its %s, backs upside down: %v", turn, over, got)
			}
		}
	}
}
