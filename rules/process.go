package rules

// ProcessTitle is a process in words that a maker uses; its name where there are
// none.
func ProcessTitle(process string) string {
	switch process {
	case "desktop":
		return "your own printer"
	case "digital":
		return "a digital press"
	case "offset-coated":
		return "offset, coated paper"
	case "offset-uncoated":
		return "offset, uncoated paper"
	}
	return process
}
