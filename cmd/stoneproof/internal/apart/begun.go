package apart

import (
	"strings"

	"stoneproof/rules"
)

// unbegunWords open the finding of a file for which no child could be started.
const unbegunWords = "The file was not judged, for its judge could not be started"

// Unbegun reports whether a report says nothing of its file, for no child could be
// started: the machine is short of something, and later the file can be judged.
func Unbegun(r rules.FileReport) bool {
	return len(r.Findings) == 1 && strings.HasPrefix(r.Findings[0].Message, unbegunWords)
}
