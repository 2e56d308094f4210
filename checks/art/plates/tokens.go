package plates

import (
	"stoneproof/checks/art/pdf/syntax"
)

// appendTokens writes operands as they were read.
func appendTokens(b []byte, list []syntax.Token) []byte {
	for i := 0; i < len(list); i++ {
		switch t := list[i]; t.Kind {
		case syntax.Name:
			b = append(append(b, '/'), t.Raw...)
		case syntax.Open:
			b = appendTokens(append(b, t.Raw...), list[i+1:i+1+t.Span])
			if string(t.Raw) == "<<" {
				b = append(b, ">>"...)
			} else {
				b = append(b, ']')
			}
			i += t.Span
		default:
			b = append(b, t.Raw...)
		}
		b = append(b, ' ')
	}
	return b
}
