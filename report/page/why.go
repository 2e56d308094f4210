package page

import (
	"bytes"
	"fmt"
	"html/template"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"stoneproof/rules"
)

// dressed fits a page of the catalogue in below a finding: its sections rank under
// the finding's heading, what may be too wide for a telephone scrolls by itself and
// by keyboard, and the empty corner of a table is no heading. The tags can only be
// the reader's own, for it passes none on that stand in the text.
var dressed = strings.NewReplacer(
	"<h2>", "<h5>", "</h2>", "</h5>",
	"<table>", `<div class="scroll" role="group" aria-label="Limits" tabindex="0"><table>`, "</table>", "</table></div>",
	"<th></th>", "<td></td>",
	"<pre><code>", `<pre class="scroll" role="group" aria-label="Drawn example" tabindex="0"><code>`,
)

// why is a rule's page of the catalogue as HTML, without its heading.
func why(id string) (template.HTML, error) {
	rule, err := rules.RuleNamed(id)
	if err != nil {
		return "", err
	}
	_, text, _ := strings.Cut(rule.Page(), "\n")
	var out bytes.Buffer
	if err := goldmark.New(goldmark.WithExtensions(extension.Table)).Convert([]byte(text), &out); err != nil {
		return "", fmt.Errorf("page of rule %s: %w", id, err)
	}
	return template.HTML(dressed.Replace(out.String())), nil
}
