package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"stoneproof/rules"
)

func compiledSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("urn:stoneproof:report:1", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("urn:stoneproof:report:1")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func written(t rapid.TB, r rules.Report) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := JSON(&out, r); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestJSONGolden(t *testing.T) {
	us := usTicket(t)
	golden(t, "report.json", written(t, rules.Report{Version: "1.0.0", Ticket: us,
		Files: []rules.FileReport{baker(us), mender(us), torn()}}))
	golden(t, "hostile.json", written(t, rules.Report{Ticket: us, Files: []rules.FileReport{hostile(us)}}))
}

func TestJSONMeetsItsSchema(t *testing.T) {
	s := compiledSchema(t)
	byHand := ticket(t, rules.Order{Trim: &rules.Size{W: rules.MM(60), H: rules.MM(61.2345)}, Spots: []string{"Gold", "Slip Blue"}})
	tickets := []rules.Ticket{usTicket(t), euTicket(t), byHand}
	rapid.Check(t, func(t *rapid.T) {
		text := written(t, reports(tickets...).Draw(t, "report"))
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(doc); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, r := range string(text) {
			if r != '\n' && !shows(r) {
				t.Fatalf("%U stands in the JSON unescaped", r)
			}
		}
	})
}

func TestSchemaRefuses(t *testing.T) {
	s := compiledSchema(t)
	us := usTicket(t)
	good := string(written(t, rules.Report{Version: "1.0.0", Ticket: us, Files: []rules.FileReport{baker(us)}}))
	for name, swap := range map[string][2]string{
		"another form":     {`"stoneproof/report/1"`, `"stoneproof/report/2"`},
		"an unknown key":   {`"kind": "pdf"`, `"kind": "pdf", "mood": "good"`},
		"a lacking key":    {`"kind": "pdf",`, ``},
		"a skipped file":   {`"verdict": "fail"`, `"verdict": "skip"`},
		"null findings":    {`"measured": {`, `"also": null, "measured": {`},
		"side nought":      {`"side": 1`, `"side": 0`},
		"an edge unheard":  {`"edge": "left"`, `"edge": "west"`},
		"an upper-case id": {`"rule": "file-opens"`, `"rule": "File-Opens"`},
		"a length in text": {`"bleed_mm": 3.175`, `"bleed_mm": "3.175 mm"`},
	} {
		t.Run(name, func(t *testing.T) {
			bad := strings.Replace(good, swap[0], swap[1], 1)
			if bad == good {
				t.Fatalf("%s is not in the report", swap[0])
			}
			doc, err := jsonschema.UnmarshalJSON(strings.NewReader(bad))
			if err != nil {
				t.Fatal(err)
			}
			if s.Validate(doc) == nil {
				t.Error("the schema takes it")
			}
		})
	}
}

// TestSchemaIsDescribed holds that every property says what it is.
func TestSchemaIsDescribed(t *testing.T) {
	var doc map[string]any
	if err := json.Unmarshal(Schema(), &doc); err != nil {
		t.Fatal(err)
	}
	var walk func(path string, node map[string]any)
	walk = func(path string, node map[string]any) {
		if node["type"] == "object" && node["additionalProperties"] != false {
			t.Errorf("%s takes unknown keys", path)
		}
		for _, under := range []string{"properties", "$defs"} {
			members, _ := node[under].(map[string]any)
			for name, member := range members {
				m := member.(map[string]any)
				here := path + "/" + name
				if m["$ref"] == nil && (m["title"] == nil || m["description"] == nil) {
					t.Errorf("%s has no title or no description", here)
				}
				walk(here, m)
			}
		}
	}
	walk("", doc)
}

// TestJSONContract spells out what other tools rely on, value by value.
func TestJSONContract(t *testing.T) {
	us := usTicket(t)
	f := baker(us)
	f.Findings = append(f.Findings, rules.Finding{Rule: "effective-resolution", Verdict: rules.Pass, Side: 1,
		Measured: rules.Value(299.99941, "ppi"), Wanted: rules.Value(math.Inf(1), "ppi"), Message: "<&>"})
	text := written(t, rules.Report{Version: "1.0.0", Ticket: us, Files: []rules.FileReport{f, torn()}})
	var doc map[string]any
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	at := func(path ...any) any {
		var node any = doc
		for _, step := range path {
			switch s := step.(type) {
			case string:
				node = node.(map[string]any)[s]
			case int:
				node = node.([]any)[s]
			}
		}
		return node
	}
	for _, c := range []struct {
		path []any
		want any
	}{
		{[]any{"schema"}, "stoneproof/report/1"},
		{[]any{"tool"}, map[string]any{"name": "stoneproof", "version": "1.0.0"}},
		{[]any{"ticket", "size"}, "us-business"},
		{[]any{"ticket", "trim_mm"}, []any{88.9, 50.8}},
		{[]any{"ticket", "bleed_mm"}, 3.175},
		{[]any{"ticket", "safe_mm"}, 3.175},
		{[]any{"ticket", "process"}, "digital"},
		{[]any{"ticket", "sides"}, []any{1.0, 2.0}},
		{[]any{"files", 0, "sides", 0, "page"}, 1.0},
		{[]any{"files", 0, "sides", 0, "bleed_mm"}, map[string]any{"top": 3.175, "right": 3.175, "bottom": 3.175, "left": 0.0}},
		{[]any{"files", 0, "findings", 0, "side"}, nil},
		{[]any{"files", 0, "findings", 5, "edge"}, "left"},
		{[]any{"files", 0, "findings", 5, "where_mm"}, []any{-3.175, 10.0, 3.175, 8.2}},
		{[]any{"files", 0, "findings", 5, "measured"}, map[string]any{"value": 1.2, "unit": "mm"}},
		{[]any{"files", 0, "findings", 5, "wanted"}, map[string]any{"min": 3.175, "unit": "mm"}},
		{[]any{"files", 0, "findings", 8, "also", 1}, map[string]any{"what": "picture 4, 231 ppi"}},
		{[]any{"files", 0, "findings", 11, "measured", "value"}, 299.999},
		{[]any{"files", 0, "findings", 11, "wanted"}, nil},
		{[]any{"files", 0, "findings", 11, "message"}, "<&>"},
		{[]any{"files", 1, "sides"}, []any{}},
		{[]any{"files", 1, "sha256"}, nil},
		{[]any{"summary"}, map[string]any{"files": 2.0, "pass": 0.0, "warn": 0.0, "fail": 2.0}},
	} {
		if diff := cmp.Diff(c.want, at(c.path...)); diff != "" {
			t.Errorf("%v (-want +got):\n%s", c.path, diff)
		}
	}
	if !bytes.Equal(text, written(t, rules.Report{Version: "1.0.0", Ticket: us, Files: []rules.FileReport{f, torn()}})) {
		t.Error("equal reports give other bytes")
	}
}

func TestJSONOfATrimByHand(t *testing.T) {
	tk := ticket(t, rules.Order{Trim: &rules.Size{W: rules.MM(60), H: rules.MM(60)}})
	if text := written(t, rules.Report{Ticket: tk}); !bytes.Contains(text, []byte(`"size": "custom"`)) ||
		!bytes.Contains(text, []byte(`"files": []`)) {
		t.Errorf("got %s", text)
	}
}

// full is a disk without room.
type full struct{}

var errFull = errors.New("no room")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWritersErrorsAreTold(t *testing.T) {
	r := rules.Report{Ticket: usTicket(t)}
	if err := JSON(full{}, r); !errors.Is(err, errFull) {
		t.Errorf("JSON: %v", err)
	}
	if err := Table(full{}, r, TableOptions{}); !errors.Is(err, errFull) {
		t.Errorf("Table: %v", err)
	}
}
