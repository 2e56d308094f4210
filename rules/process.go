package rules

// ProcessTitle is a process in words that a maker uses; its name where there are
// none.
func ProcessTitle(process string) string {
	switch process {
	case "desktop":
		return "your own printer"
	case "digital":
		return "digital press at a print shop"
	case "offset-coated":
		return "offset press, coated paper"
	case "offset-uncoated":
		return "offset press, uncoated paper"
	}
	return process
}
