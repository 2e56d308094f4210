package checks_test

import (
	"path/filepath"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

func TestTrueDetail(t *testing.T) {
	dark := press.Card{Maker: "bookbinder", Style: press.Dark, Size: "us-business"}
	try(t, checks.TrueDetail, []trial{
		{"enlarged four times", dark.PNG(300, press.In(press.Grey), press.Enlarged(4)), rules.Order{}, "fail", "the detail of about 75 ppi"},
		{"as it was drawn", dark.PNG(300, press.In(press.Grey)), rules.Order{}, "pass", ""},
		{"a picture too small to tell", dark.PNG(30), rules.Order{}, "skip", "too few pixels"},
	})
}

// The blocks of a JPEG have a period of eight pixels, and colours that are saved at half
// the pixels one of two. Photographs whose grounds are soft show little else; none of
// them was enlarged.
func TestTrueDetailLeavesBlocksAlone(t *testing.T) {
	card := func(maker string, style press.Style, size string, how ...press.Option) (rules.Order, []byte) {
		return rules.Order{Size: size}, press.Card{Maker: maker, Style: style, Size: size}.PDF(how...)
	}
	for name, made := range map[string]func() (rules.Order, []byte){
		"photograph": func() (rules.Order, []byte) { return card("candle-maker", press.Photographic, "us-postcard") },
		"vignette":   func() (rules.Order, []byte) { return card("potter", press.Vignette, "us-postcard") },
		"linen":      func() (rules.Order, []byte) { return card("joiner", press.Textured, "us-business", press.Quality(11)) },
		"two sides": func() (rules.Order, []byte) {
			return card("candle-maker", press.TwoSided, "poker-us", press.Quality(12))
		},
	} {
		t.Run(name, func(t *testing.T) {
			order, file := made()
			notEnlarged(t, kept(t, "card.pdf", file), order)
		})
	}
	t.Run("by Ghostscript", func(t *testing.T) {
		order, file := card("paper-marbler", press.Vignette, "a7")
		out := filepath.Join(t.TempDir(), "out.pdf")
		run(t, outside.Tool(t, "gs"), "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-sOutputFile="+out, kept(t, "card.pdf", file))
		notEnlarged(t, out, order)
	})
}

// notEnlarged lets true-detail pass a file, or skip it, but not blame it.
func notEnlarged(t *testing.T, path string, order rules.Order) {
	t.Helper()
	r := checktest.JudgeBy(t, path, order, checks.TrueDetail)
	for _, f := range r.Findings {
		if f.Rule == checks.TrueDetail.Rule && f.Verdict != rules.Pass && f.Verdict != rules.Skip {
			t.Errorf("%s: %s", f.Verdict, f.Message)
		}
	}
}
