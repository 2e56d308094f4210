package report

import (
	"strings"
	"testing"

	"stoneproof/rules"
)

// The examples are reports as the checks would make them, on cards of the
// makers of the market town of Wendlebury Cross.

func ticket(t testing.TB, o rules.Order) rules.Ticket {
	t.Helper()
	made, err := o.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return made
}

func usTicket(t testing.TB) rules.Ticket { return ticket(t, rules.Order{}) }
func euTicket(t testing.TB) rules.Ticket { return ticket(t, rules.Order{Size: "eu-business"}) }

func pass(rule string, side int, message string) rules.Finding {
	return rules.Finding{Rule: rule, Verdict: rules.Pass, Side: side, Basis: rules.Measured, Message: message}
}

// potter is a good PDF of two sides.
func potter(tk rules.Ticket) rules.FileReport {
	f := rules.FileReport{Path: "potter.pdf", Kind: "pdf", Verdict: rules.Pass, SHA256: strings.Repeat("0a", 32)}
	f.Findings = append(f.Findings,
		pass("file-opens", 0, "The file opens, whole and not locked."),
		pass("side-count", 0, "The file has 2 sides."))
	for side := 1; side <= 2; side++ {
		f.Sides = append(f.Sides, rules.SideFacts{Number: side, Trim: tk.Trim, Bleed: rules.Even(tk.Bleed),
			Basis: rules.Read, Placing: "by its TrimBox"})
		f.Findings = append(f.Findings,
			pass("page-boxes", side, "The boxes are there, nested and agree."),
			pass("trim-size", side, "The trim is "+tk.Trim.In(tk.Unit)+"."),
			pass("bleed-extent", side, "The page reaches "+tk.Bleed.In(tk.Unit)+" beyond the trim all round."),
			pass("bleed-fill", side, "Paint reaches the bleed edge wherever it reaches the trim."),
			pass("safe-zone", side, "Nothing lies within "+tk.Safe.In(tk.Unit)+" of the knife."),
			pass("effective-resolution", side, "1 picture, 312 ppi."))
	}
	return f
}

// baker is a PDF that fails on one edge and warns twice.
func baker(tk rules.Ticket) rules.FileReport {
	f := potter(tk)
	f.Path, f.Verdict = "cards/baker.pdf", rules.Fail
	f.Sides[0].Bleed.Left = 0
	f.Findings = f.Findings[:8:8]
	f.Findings[5] = rules.Finding{
		Rule: "bleed-fill", Verdict: rules.Fail, Side: 1, Edge: rules.Left, Basis: rules.Measured,
		Where:    &rules.Box{X: -tk.Bleed, Y: rules.MM(10), W: tk.Bleed, H: rules.MM(8.2)},
		Measured: rules.ValueMM(rules.MM(1.2)), Wanted: rules.AtLeastMM(tk.Bleed),
		Message: "Paint reaches the trim but goes only " + rules.MM(1.2).In(tk.Unit) + " beyond it on the left edge, from " +
			rules.MM(10).In(tk.Unit) + " to " + rules.MM(18.2).In(tk.Unit) + " from the top.",
		Fix: "Extend the background " + (tk.Bleed - rules.MM(1.2)).In(tk.Unit) + " further on the left edge, to " + tk.Bleed.In(tk.Unit) + " beyond the trim.",
	}
	f.Findings = append(f.Findings,
		rules.Finding{Rule: "effective-resolution", Verdict: rules.Warn, Side: 2, Basis: rules.Measured,
			Message: "The softest of 6 pictures has 214 × 214 ppi at the size it prints; 300 ppi is good.",
			Fix:     "Place pictures of at least 1125 × 675 px, or print them at most 1.25 × 0.75 in large.",
			Also: []rules.Place{{What: "picture 2, 226 ppi"}, {What: "picture 4, 231 ppi"}, {What: "picture 5, 240 ppi"},
				{What: "picture 6, 251 ppi"}, {What: "picture 7, 290 ppi"}}},
		rules.Finding{Rule: "safe-zone", Verdict: rules.Skip, Side: 2,
			Message: "Not judged: the side took too long to draw."},
		rules.Finding{Rule: "colour-space", Verdict: rules.Warn, Basis: rules.Read, Measured: rules.Named("RGB"),
			Message: "The art uses RGB; a digital press prints in CMYK and will choose the colours itself.",
			Fix:     "Convert to CMYK with the profile that the print shop names, or ask for a proof."})
	return f
}

// mender is a PNG that only warns.
func mender(tk rules.Ticket) rules.FileReport {
	return rules.FileReport{
		Path: "mender.png", Kind: "png", Verdict: rules.Warn, SHA256: strings.Repeat("5e", 32),
		Sides: []rules.SideFacts{{Number: 1, Trim: tk.Trim, Bleed: rules.Even(tk.Bleed), Basis: rules.Inferred,
			Placing: "by its size, which is trim and two bleeds"}},
		Findings: []rules.Finding{
			pass("file-opens", 0, "The file opens."),
			pass("trim-size", 1, "The trim is right."),
			{Rule: "colour-tags", Verdict: rules.Warn, Side: 1, Basis: rules.Read,
				Message: "The picture is RGB and carries no profile.",
				Fix:     "Export again with the profile embedded."},
		},
	}
}

// unboxed is a picture that passes what could be judged of it.
func unboxed(tk rules.Ticket) rules.FileReport {
	f := mender(tk)
	f.Verdict = rules.Pass
	f.Findings[2] = rules.Finding{Rule: "page-boxes", Verdict: rules.Skip, Message: "Not judged: a PNG has no page boxes."}
	return f
}

// torn is a file that cannot be opened.
func torn() rules.FileReport {
	return rules.FileReport{Path: "torn.pdf", Kind: "unknown", Verdict: rules.Fail, Findings: []rules.Finding{
		{Rule: "file-opens", Verdict: rules.Fail, Basis: rules.Read,
			Message: "The file is cut off after 4096 bytes: the end of the PDF is not there.",
			Fix:     "Export the card again, or send the file again."},
		{Rule: "trim-size", Verdict: rules.Skip, Message: "Not judged: the file does not open."},
	}}
}

// hostile has names that would play tricks on a terminal.
func hostile(tk rules.Ticket) rules.FileReport {
	f := mender(tk)
	f.Path = "card\x1b[2J\u202egnp.exe\n✓ pass  all good.pdf"
	f.Kind = "png\x1b[31m"
	f.Sides[0].Placing = "by \u009b31m"
	f.Findings[2].Verdict = rules.Fail
	f.Verdict = rules.Fail
	f.Findings[2].Message = "The font \"" + strings.Repeat("Wendlebury", 12) + "\x07\u2066\" and \"陶芸家の名刺は角が丸い陶芸家の名刺は角が丸い\" are not embedded: \xff\xfe."
	f.Findings[2].Also = []rules.Place{{What: "Z" + strings.Repeat("\u0301", 40) + " \u200b\u3164"}}
	return f
}

func longName(tk rules.Ticket) rules.FileReport {
	f := potter(tk)
	f.Path = "incoming/" + strings.Repeat("陶芸", 1700) + "-final.pdf"
	return f
}

func mixed(tk rules.Ticket) rules.FileReport {
	f := potter(tk)
	f.Path = "mixed.pdf"
	for n := 3; n <= 9; n++ {
		f.Sides = append(f.Sides, rules.SideFacts{Number: n, Trim: rules.Size{W: rules.MM(float64(80 + n)), H: rules.MM(55)},
			Basis: rules.Inferred, Bleed: rules.Edges{Top: rules.MM(3), Right: rules.MM(3), Left: rules.MM(2)}})
	}
	f.Verdict = rules.Fail
	f.Findings = append(f.Findings[:1:1], rules.Finding{Rule: "side-count", Verdict: rules.Fail,
		Message: "The file has 9 sides; 1 or 2 are wanted.", Fix: "Export each card as a file of its own."})
	return f
}
