package report

import (
	"testing"

	"stoneproof/rules"
)

func TestClosing(t *testing.T) {
	const (
		again       = " Put right what is marked fail, export again, and check once more."
		strictAgain = ": warnings count as failures here. Put right what is marked fail or warn, export again, and check once more."
		weigh       = " warnings: look at each place that is marked warn, and print if you can live with it."
	)
	for _, c := range []struct {
		pass, warn, fail int
		strict           bool
		want             string
	}{
		{0, 0, 0, false, "No files were checked."},
		{1, 0, 0, false, "All good: the file may go to print."},
		{2, 0, 0, true, "All good: 2 files may go to print."},
		{0, 1, 0, false, "Nothing fails. The file has" + weigh},
		{1, 1, 0, false, "Nothing fails. 1 of 2 files has" + weigh},
		{1, 2, 0, false, "Nothing fails. 2 of 3 files have" + weigh},
		{0, 2, 0, false, "Nothing fails. Both files have" + weigh},
		{0, 0, 1, false, "The file fails." + again},
		{2, 0, 1, true, "1 of 3 files fails." + again},
		{1, 0, 2, false, "2 of 3 files fail." + again},
		{0, 0, 3, false, "All 3 files fail." + again},
		{1, 1, 1, false, "1 of 3 files fails." + again + " 1 of 3 files only warns: weigh what is marked warn."},
		{1, 1, 1, true, "2 of 3 files fail" + strictAgain},
		{0, 1, 0, true, "The file fails" + strictAgain},
	} {
		var r rules.Report
		for verdict, n := range map[rules.Verdict]int{rules.Pass: c.pass, rules.Warn: c.warn, rules.Fail: c.fail} {
			for range n {
				r.Files = append(r.Files, rules.FileReport{Verdict: verdict})
			}
		}
		if got := closing(r, c.strict); got != c.want {
			t.Errorf("%d pass, %d warn, %d fail, strict %v:\ngot  %s\nwant %s", c.pass, c.warn, c.fail, c.strict, got, c.want)
		}
	}
}
