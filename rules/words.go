package rules

import "fmt"

// Counted is a number with its noun: "1 side", "3 sides".
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
