package main

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write golden files anew")

// TestReadmeSamples keeps the samples of the README what the program prints:
// each stands between a comment that names the command and one that ends it.
func TestReadmeSamples(t *testing.T) {
	const file = "../../README.md"
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir("../..")
	now := samples(t, string(text))
	if now == string(text) {
		return
	}
	if !*update {
		t.Fatal("the README's samples are not what the program prints: run with -update and read the difference")
	}
	if err := os.WriteFile("README.md", []byte(now), 0o644); err != nil {
		t.Fatal(err)
	}
}

const (
	sampleOpens  = "<!-- sample: "
	sampleCloses = "<!-- end of sample -->"
)

// samples is the text with each sample run again.
func samples(t *testing.T, text string) string {
	var out strings.Builder
	for {
		before, rest, found := strings.Cut(text, sampleOpens)
		out.WriteString(before)
		if !found {
			return out.String()
		}
		command, rest, _ := strings.Cut(rest, " -->\n")
		_, after, closed := strings.Cut(rest, sampleCloses)
		if !closed {
			t.Fatalf("the sample %q is not closed", command)
		}
		var said bytes.Buffer
		run(strings.Fields(command), strings.NewReader(""), &said, &bytes.Buffer{})
		out.WriteString(sampleOpens + command + " -->\n```\n$ stoneproof " + command + "\n" + said.String() + "```\n" + sampleCloses)
		text = after
	}
}
