package syntax

// Kind tells tokens apart.
type Kind byte

// Kinds of token.
const (
	End    Kind = iota
	Number      // Num is set
	Name        // Raw is without the slash, #xx not undone
	Text        // ( … ) with the parentheses
	Hex         // < … > with the brackets
	Word        // an operator, true, false, null
	Open        // [ or <<
	Shut        // ] or >>
	Stray       // a delimiter out of place
)

// Token is a piece of content. It points into the stream.
type Token struct {
	Raw  []byte
	Num  float64
	Span int // for Open among operands: how many tokens after it are inside
	Kind Kind
}

// Lexer reads the tokens of a content stream (7.2, 7.3, 7.8.2) from B, beginning at
// P. It allocates nothing for a token.
type Lexer struct {
	B []byte
	P int
}

// Character classes of 7.2.2.
const (
	regular = iota
	white
	delimiter
)

// classes is a table because every byte of every stream asks it.
var classes = [256]byte{
	0: white, '\t': white, '\n': white, '\f': white, '\r': white, ' ': white,
	'(': delimiter, ')': delimiter, '<': delimiter, '>': delimiter, '[': delimiter, ']': delimiter,
	'{': delimiter, '}': delimiter, '/': delimiter, '%': delimiter,
}

func class(c byte) byte { return classes[c] }

// IsWhite tells whether c is white space.
func IsWhite(c byte) bool { return classes[c] == white }

// Next gives the next token, of kind End at the end of the stream.
func (l *Lexer) Next() Token {
	l.SkipWhite()
	if l.P >= len(l.B) {
		return Token{}
	}
	switch c := l.B[l.P]; c {
	case '/':
		l.P++
		return Token{Raw: l.regular(), Kind: Name}
	case '(':
		return Token{Raw: l.text(), Kind: Text}
	case '<':
		if l.P+1 < len(l.B) && l.B[l.P+1] == '<' {
			return l.punctuation(2, Open)
		}
		return Token{Raw: l.hex(), Kind: Hex}
	case '>':
		if l.P+1 < len(l.B) && l.B[l.P+1] == '>' {
			return l.punctuation(2, Shut)
		}
		return l.punctuation(1, Stray)
	case '[':
		return l.punctuation(1, Open)
	case ']':
		return l.punctuation(1, Shut)
	case ')', '{', '}':
		return l.punctuation(1, Stray)
	}
	raw := l.regular()
	if c := raw[0]; c <= '9' && (c >= '0' || c == '-' || c == '.' || c == '+') {
		return Token{Raw: raw, Num: ParseNumber(raw), Kind: Number}
	}
	return Token{Raw: raw, Kind: Word}
}

// SkipWhite goes on to what is neither white space nor comment.
func (l *Lexer) SkipWhite() {
	for l.P < len(l.B) {
		switch c := l.B[l.P]; {
		case class(c) == white:
			l.P++
		case c == '%':
			for l.P < len(l.B) && l.B[l.P] != '\n' && l.B[l.P] != '\r' {
				l.P++
			}
		default:
			return
		}
	}
}

func (l *Lexer) punctuation(n int, k Kind) Token {
	t := Token{Raw: l.B[l.P : l.P+n], Kind: k}
	l.P += n
	return t
}

func (l *Lexer) regular() []byte {
	start := l.P
	for l.P < len(l.B) && class(l.B[l.P]) == regular {
		l.P++
	}
	return l.B[start:l.P]
}

func (l *Lexer) text() []byte {
	start, depth := l.P, 0
	for l.P < len(l.B) {
		c := l.B[l.P]
		l.P++
		switch c {
		case '\\':
			l.P = min(l.P+1, len(l.B))
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return l.B[start:l.P]
			}
		}
	}
	return l.B[start:]
}

func (l *Lexer) hex() []byte {
	start := l.P
	for l.P < len(l.B) {
		l.P++
		if l.B[l.P-1] == '>' {
			break
		}
	}
	return l.B[start:l.P]
}

// ParseNumber reads integers and reals (7.3.3). Slips that readers forgive are
// forgiven: several signs, a second point, a sign in the middle ends the number.
func ParseNumber(s []byte) float64 {
	i, negative := 0, false
	for i < len(s) && (s[i] == '-' || s[i] == '+') {
		negative = negative || s[i] == '-'
		i++
	}
	whole, fraction, scale, point := 0.0, 0.0, 1.0, false
	for ; i < len(s); i++ {
		c := s[i]
		switch {
		case c >= '0' && c <= '9' && !point:
			whole = whole*10 + float64(c-'0')
		case c >= '0' && c <= '9':
			if scale < 1e15 {
				fraction = fraction*10 + float64(c-'0')
				scale *= 10
			}
		case c == '.' && !point:
			point = true
		default:
			i = len(s)
		}
	}
	v := whole + fraction/scale
	if v > 1e30 {
		v = 1e30 // out of any use, and safe to multiply
	}
	if negative {
		return -v
	}
	return v
}
