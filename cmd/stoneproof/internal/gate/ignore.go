package gate

import (
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
)

// TicketName is the file that says what the cards of a folder and of those below it
// should be.
const TicketName = "ticket.toml"

// DefaultIgnored lists the patterns of names that are left alone without a word: hidden
// ones, and those that programs give to files they have not finished. Common practice;
// case does not matter.
func DefaultIgnored() []string {
	return []string{
		".*", "~*", "*~", "*.tmp", "*.temp", "*.part", "*.partial", "*.filepart", "*.download", "*.crdownload",
		"*.swp", "*.lock", "thumbs.db", "desktop.ini",
	}
}

// CheckPatterns refuses a pattern that cannot be read.
func CheckPatterns(patterns []string) error {
	for _, p := range patterns {
		if _, err := filepath.Match(p, ""); err != nil || p == "" {
			return fmt.Errorf("%q is no pattern of names", p)
		}
	}
	return nil
}

// leftAlone reports whether a name is hidden, temporary or a ticket's.
func (g *Gate) leftAlone(name string) bool {
	name = strings.ToLower(name)
	if name == TicketName {
		return true
	}
	for _, p := range g.patterns {
		if ok, _ := filepath.Match(p, name); ok {
			return true
		}
	}
	return false
}

// oddity says why something that is no ordinary file is not judged: empty for a file.
// Whatever could lead out of the intake, or never end, is not even opened.
func oddity(mode fs.FileMode) string {
	switch {
	case mode.IsRegular():
		return ""
	case mode&fs.ModeSymlink != 0:
		return "a link: links are not followed, lay the file itself here"
	case mode&fs.ModeNamedPipe != 0:
		return "a pipe, no file"
	case mode&fs.ModeSocket != 0:
		return "a socket, no file"
	case mode&fs.ModeDevice != 0:
		return "a device, no file"
	}
	return "no ordinary file"
}
