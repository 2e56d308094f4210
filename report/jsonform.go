package report

import (
	"math"

	"stoneproof/rules"
)

// The form of the JSON report: structs of its own, so that the words inside the
// project may change without a reader's noticing. Schema describes every field.

type jsonReport struct {
	Schema  string      `json:"schema"`
	Tool    jsonTool    `json:"tool"`
	Ticket  jsonTicket  `json:"ticket"`
	Files   []jsonFile  `json:"files"`
	Summary jsonSummary `json:"summary"`
}

type jsonTool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

type jsonTicket struct {
	Size        string     `json:"size"`
	Trim        [2]float64 `json:"trim_mm"`
	Bleed       float64    `json:"bleed_mm"`
	Safe        float64    `json:"safe_mm"`
	Process     string     `json:"process"`
	Orientation string     `json:"orientation,omitempty"`
	Sides       []int      `json:"sides,omitempty"`
	Spots       []string   `json:"spots,omitempty"`
}

type jsonFile struct {
	Path     string        `json:"path"`
	Kind     string        `json:"kind"`
	SHA256   string        `json:"sha256,omitempty"`
	Verdict  string        `json:"verdict"`
	Sides    []jsonSide    `json:"sides"`
	Findings []jsonFinding `json:"findings"`
}

type jsonSide struct {
	Page  int        `json:"page"`
	Trim  [2]float64 `json:"trim_mm"`
	Bleed jsonEdges  `json:"bleed_mm"`
	Basis string     `json:"basis,omitempty"`
}

type jsonEdges struct {
	Top    float64 `json:"top"`
	Right  float64 `json:"right"`
	Bottom float64 `json:"bottom"`
	Left   float64 `json:"left"`
}

type jsonFinding struct {
	Rule     string        `json:"rule"`
	Verdict  string        `json:"verdict"`
	Side     int           `json:"side,omitempty"`
	Edge     string        `json:"edge,omitempty"`
	Where    *[4]float64   `json:"where_mm,omitempty"`
	Measured *jsonQuantity `json:"measured,omitempty"`
	Wanted   *jsonQuantity `json:"wanted,omitempty"`
	Basis    string        `json:"basis,omitempty"`
	Message  string        `json:"message"`
	Fix      string        `json:"fix,omitempty"`
	Also     []jsonPlace   `json:"also,omitempty"`
}

type jsonQuantity struct {
	Value  *float64  `json:"value,omitempty"`
	Values []float64 `json:"values,omitempty"`
	Min    *float64  `json:"min,omitempty"`
	Max    *float64  `json:"max,omitempty"`
	Text   string    `json:"text,omitempty"`
	Unit   string    `json:"unit,omitempty"`
}

type jsonPlace struct {
	What     string        `json:"what"`
	Where    *[4]float64   `json:"where_mm,omitempty"`
	Measured *jsonQuantity `json:"measured,omitempty"`
}

type jsonSummary struct {
	Files int `json:"files"`
	Pass  int `json:"pass"`
	Warn  int `json:"warn"`
	Fail  int `json:"fail"`
}

func reportOf(r rules.Report) jsonReport {
	pass, warn, fail := r.Count()
	j := jsonReport{
		Schema:  schemaName,
		Tool:    jsonTool{Name: "stoneproof", Version: r.Version},
		Ticket:  ticketOf(r.Ticket),
		Files:   []jsonFile{},
		Summary: jsonSummary{Files: len(r.Files), Pass: pass, Warn: warn, Fail: fail},
	}
	for _, f := range r.Files {
		j.Files = append(j.Files, fileOf(f))
	}
	return j
}

func ticketOf(t rules.Ticket) jsonTicket {
	size := t.Size
	if size == "" {
		size = customSize
	}
	return jsonTicket{
		Size: size, Trim: pair(t.Trim), Bleed: t.Bleed.MM(), Safe: t.Safe.MM(),
		Process: t.Process, Orientation: string(t.Orientation), Sides: t.Sides, Spots: t.Spots,
	}
}

func fileOf(f rules.FileReport) jsonFile {
	j := jsonFile{
		Path: f.Path, Kind: f.Kind, SHA256: f.SHA256, Verdict: string(f.Verdict),
		Sides: []jsonSide{}, Findings: []jsonFinding{},
	}
	for _, s := range f.Sides {
		b := s.Bleed
		j.Sides = append(j.Sides, jsonSide{
			Page: s.Number, Trim: pair(s.Trim), Basis: string(s.Basis),
			Bleed: jsonEdges{b.Top.MM(), b.Right.MM(), b.Bottom.MM(), b.Left.MM()},
		})
	}
	for _, g := range f.Findings {
		j.Findings = append(j.Findings, findingOf(g))
	}
	return j
}

func findingOf(f rules.Finding) jsonFinding {
	j := jsonFinding{
		Rule: f.Rule, Verdict: string(f.Verdict), Side: f.Side, Edge: string(f.Edge),
		Where: boxOf(f.Where), Measured: quantityOf(f.Measured), Wanted: quantityOf(f.Wanted),
		Basis: string(f.Basis), Message: f.Message, Fix: f.Fix,
	}
	for _, p := range f.Also {
		j.Also = append(j.Also, jsonPlace{p.What, boxOf(p.Where), quantityOf(p.Measured)})
	}
	return j
}

func pair(s rules.Size) [2]float64 { return [2]float64{s.W.MM(), s.H.MM()} }

func boxOf(b *rules.Box) *[4]float64 {
	if b == nil {
		return nil
	}
	return &[4]float64{b.X.MM(), b.Y.MM(), b.W.MM(), b.H.MM()}
}

// quantityOf leaves out what JSON has no number for; a quantity of which
// nothing is left is left out whole.
func quantityOf(q *rules.Quantity) *jsonQuantity {
	if q == nil {
		return nil
	}
	j := jsonQuantity{Value: number(q.Value), Min: number(q.Min), Max: number(q.Max), Text: q.Text, Unit: q.Unit}
	for _, v := range q.Values {
		if v := number(&v); v != nil {
			j.Values = append(j.Values, *v)
		}
	}
	if j.Value == nil && j.Min == nil && j.Max == nil && j.Values == nil && j.Text == "" {
		return nil
	}
	return &j
}

// number is v to a thousandth; nil where it is none.
func number(v *float64) *float64 {
	if v == nil || math.IsNaN(*v) || math.IsInf(*v, 0) {
		return nil
	}
	rounded := math.Round(*v*1000) / 1000
	if math.IsInf(rounded, 0) {
		rounded = *v // too large to have thousandths
	}
	return &rounded
}
