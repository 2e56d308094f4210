package rules

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestDefaultLimits guards every default number, process by process. What is
// not marked otherwise is common practice.
func TestDefaultLimits(t *testing.T) {
	want := map[string]Limits{
		"desktop": {
			TrimTolerance: MM(0.25), RasterTrimTolerance: MM(0.5), BleedSlack: MM(0.1), BleedSliver: MM(0.3),
			BorderLeast: MM(5), MarkPlace: MM(0.25), MarkWeightMost: 1,
			// 300 ppi is 2 × a screen of 150 lpi; trade handbooks: 1.5 to 2 × lpi.
			TonePPIGood: 300, TonePPILeast: 200, LinePPIGood: 600, LinePPILeast: 300, PPISlack: 0.005,
			RGB: Pass, RGBUntagged: Warn, CMYKUntagged: Warn, TagBroken: Fail,
			InkTotal: 280, InkSlack: 2, InkArea: MM(1), InkOver: Warn, Spot: Warn,
			TypeLeast: 5, TypeReversedLeast: 6, LineLeast: 0.25, LineReversedLeast: 0.5, RichTypeLeast: 12, RichLineLeast: 1,
			// Four dots of the printer; ISO/IEC 18004:2015, 6.3.8; ISO/IEC 15415 (from memory).
			CodeModuleGood: MM(0.33), CodeModuleLeast: MM(0.28), CodeQuietGood: 4, CodeQuietLeast: 1, CodeContrastGood: 40, CodeContrastLeast: 20,
			// Our own measure; blocks by what the eye resolves, the quality by common practice.
			LossBlocksGood: 4, LossBlocksMost: 10, LossSpecksGood: 7, LossSpecksMost: 10, LossSeen: MM(0.2), LossQuality: 90,
		},
		"digital": {
			TrimTolerance: MM(0.25), RasterTrimTolerance: MM(0.5), BleedSlack: MM(0.1), BleedSliver: MM(0.3),
			BorderLeast: MM(3), MarkPlace: MM(0.25), MarkWeightMost: 1,
			// 1 bit: an open working group's sheetfed specification rejects under
			// 550 ppi and warns under 800.
			TonePPIGood: 300, TonePPILeast: 200, LinePPIGood: 800, LinePPILeast: 550, PPISlack: 0.005,
			RGB: Warn, RGBUntagged: Warn, CMYKUntagged: Pass, TagBroken: Fail,
			InkTotal: 320, InkSlack: 2, InkArea: MM(1), InkOver: Fail, Spot: Warn,
			TypeLeast: 5, TypeReversedLeast: 6, LineLeast: 0.25, LineReversedLeast: 0.5, RichTypeLeast: 12, RichLineLeast: 1,
			// Four dots of the printer; ISO/IEC 18004:2015, 6.3.8; ISO/IEC 15415 (from memory).
			CodeModuleGood: MM(0.33), CodeModuleLeast: MM(0.17), CodeQuietGood: 4, CodeQuietLeast: 1, CodeContrastGood: 40, CodeContrastLeast: 20,
			// Our own measure; blocks by what the eye resolves, the quality by common practice.
			LossBlocksGood: 4, LossBlocksMost: 10, LossSpecksGood: 7, LossSpecksMost: 10, LossSeen: MM(0.2), LossQuality: 90,
		},
		"offset-coated": {
			TrimTolerance: MM(0.25), RasterTrimTolerance: MM(0.5), BleedSlack: MM(0.1), BleedSliver: MM(0.3),
			BorderLeast: MM(3), MarkPlace: MM(0.25), MarkWeightMost: 1,
			TonePPIGood: 300, TonePPILeast: 200, LinePPIGood: 800, LinePPILeast: 550, PPISlack: 0.005,
			RGB: Fail, RGBUntagged: Warn, CMYKUntagged: Pass, TagBroken: Fail,
			InkTotal: 300, InkSlack: 2, InkArea: MM(1), InkOver: Fail, Spot: Fail,
			TypeLeast: 5, TypeReversedLeast: 6, LineLeast: 0.25, LineReversedLeast: 0.5, RichTypeLeast: 12, RichLineLeast: 1,
			// Four dots of the printer; ISO/IEC 18004:2015, 6.3.8; ISO/IEC 15415 (from memory).
			CodeModuleGood: MM(0.33), CodeModuleLeast: MM(0.17), CodeQuietGood: 4, CodeQuietLeast: 1, CodeContrastGood: 40, CodeContrastLeast: 20,
			// Our own measure; blocks by what the eye resolves, the quality by common practice.
			LossBlocksGood: 4, LossBlocksMost: 10, LossSpecksGood: 7, LossSpecksMost: 10, LossSeen: MM(0.2), LossQuality: 90,
		},
		"offset-uncoated": {
			TrimTolerance: MM(0.25), RasterTrimTolerance: MM(0.5), BleedSlack: MM(0.1), BleedSliver: MM(0.3),
			BorderLeast: MM(3), MarkPlace: MM(0.25), MarkWeightMost: 1,
			TonePPIGood: 300, TonePPILeast: 200, LinePPIGood: 800, LinePPILeast: 550, PPISlack: 0.005,
			RGB: Fail, RGBUntagged: Warn, CMYKUntagged: Pass, TagBroken: Fail,
			InkTotal: 260, InkSlack: 2, InkArea: MM(1), InkOver: Fail, Spot: Fail,
			TypeLeast: 6, TypeReversedLeast: 7, LineLeast: 0.35, LineReversedLeast: 0.5, RichTypeLeast: 12, RichLineLeast: 1,
			// Four dots of the printer; ISO/IEC 18004:2015, 6.3.8; ISO/IEC 15415 (from memory).
			CodeModuleGood: MM(0.33), CodeModuleLeast: MM(0.28), CodeQuietGood: 4, CodeQuietLeast: 1, CodeContrastGood: 40, CodeContrastLeast: 20,
			// Our own measure; blocks by what the eye resolves, the quality by common practice.
			LossBlocksGood: 4, LossBlocksMost: 10, LossSpecksGood: 7, LossSpecksMost: 10, LossSeen: MM(0.2), LossQuality: 90,
		},
	}
	if len(Processes()) != len(want) {
		t.Errorf("processes are %v", Processes())
	}
	for _, process := range Processes() {
		ticket, err := Order{Process: process}.Ticket()
		if err != nil {
			t.Errorf("%s: %v", process, err)
			continue
		}
		if diff := cmp.Diff(want[process], ticket.Limits); diff != "" {
			t.Errorf("%s (-want +got):\n%s", process, diff)
		}
		if ticket.Process != process {
			t.Errorf("%s calls itself %s", process, ticket.Process)
		}
	}
}

// TestSlackCoversWholeNumberStorage checks the slack against what it is for:
// 300 ppi stored as 11811 px/m (PNG pHYs) is 299.9994 ppi, as 118 per cm (JFIF)
// 299.72 ppi; both must count as 300, and 298 must not.
func TestSlackCoversWholeNumberStorage(t *testing.T) {
	ticket, err := Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	least := ticket.Limits.TonePPIGood * (1 - ticket.Limits.PPISlack)
	for ppi, good := range map[float64]bool{11811 * 0.0254: true, 118 * 2.54: true, 298: false} {
		if (ppi >= least) != good {
			t.Errorf("%v ppi counts as 300: %v", ppi, !good)
		}
	}
}

func TestLimitsRefuse(t *testing.T) {
	for text, hint := range map[string]string{
		`trim-tolerance = "-1mm"`:                  "trim-tolerance",
		`raster-trim-tolerance = "-1mm"`:           "raster-trim-tolerance",
		`bleed-slack = "-0.1mm"`:                   "bleed-slack",
		`bleed-sliver = "-0.1mm"`:                  "bleed-sliver",
		`border-least = "-3mm"`:                    "border-least",
		"tone-ppi-least = 301":                     "limit tone-ppi-least is over tone-ppi-good",
		"line-ppi-good = 549":                      "limit line-ppi-least is over line-ppi-good",
		"tone-ppi-least = -1":                      "out of range",
		"tone-ppi-good = nan":                      "out of range",
		"line-ppi-least = nan":                     "out of range",
		"line-ppi-good = inf":                      "out of range",
		"ppi-slack = 1":                            "ppi-slack",
		"ppi-slack = -0.1":                         "ppi-slack",
		"ppi-slack = nan":                          "ppi-slack",
		`code-module-least = "0mm"`:                "code-module",
		`code-module-good = "0.1mm"`:               "code is over the good one",
		"code-quiet-good = nan":                    "code-quiet-good",
		"code-contrast-good = 101":                 "code-contrast-good",
		"loss-blocks-good = nan":                   "loss-blocks-good",
		"loss-specks-good = 0":                     "loss-specks-good",
		"loss-specks-most = 6":                     "good limit of loss is over the most",
		"loss-quality = 101":                       "loss-quality",
		`loss-seen = "-1mm"`:                       "loss-seen",
		"tone-ppi-good = -2\ntone-ppi-least = -3.": "",
	} {
		order, err := ReadTicket("job.toml", []byte("[limits]\n"+text))
		if err == nil {
			_, err = order.Ticket()
		}
		if err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("%s: %v, want an error with %q", text, err, hint)
		}
	}
	if l := (Limits{PPISlack: math.NaN()}); l.validate() == nil {
		t.Error("a slack that is no number is taken")
	}
}

// TestIntegersAreNumbersToo: TOML tells 400 and 400.0 apart; people do not.
func TestIntegersAreNumbersToo(t *testing.T) {
	order, err := ReadTicket("job.toml", []byte("[limits]\ntone-ppi-good = 400\ntone-ppi-least = 250\nppi-slack = 0\n"))
	if err != nil {
		t.Fatal(err)
	}
	ticket, err := order.Ticket()
	if err != nil || ticket.Limits.TonePPIGood != 400 || ticket.Limits.TonePPILeast != 250 || ticket.Limits.PPISlack != 0 {
		t.Errorf("got %+v, %v", ticket.Limits, err)
	}
}
