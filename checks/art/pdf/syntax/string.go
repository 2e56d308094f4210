package syntax

// AppendString appends the bytes of a text or hex token (7.3.4) to dst.
func (t Token) AppendString(dst []byte) []byte {
	switch t.Kind {
	case Hex:
		return Unhex(dst, t.Raw)
	case Text:
		return unescape(dst, t.Raw)
	}
	return dst
}

// Unhex skips anything that is no digit; a missing last digit counts as 0 (7.3.4.3).
func Unhex(dst, s []byte) []byte {
	half, odd := byte(0), false
	for _, c := range s {
		v, ok := HexDigit(c)
		if !ok {
			continue
		}
		if odd {
			dst = append(dst, half|v)
		}
		half, odd = v<<4, !odd
	}
	if odd {
		dst = append(dst, half)
	}
	return dst
}

// HexDigit gives the value of a digit.
func HexDigit(c byte) (byte, bool) {
	switch {
	case c >= '0' && c <= '9':
		return c - '0', true
	case c >= 'a' && c <= 'f':
		return c - 'a' + 10, true
	case c >= 'A' && c <= 'F':
		return c - 'A' + 10, true
	}
	return 0, false
}

// unescape undoes the backslashes of Table 3; s still has its parentheses.
func unescape(dst, s []byte) []byte {
	s = s[1:]
	if n := len(s); n > 0 && s[n-1] == ')' {
		s = s[:n-1]
	}
	for i := 0; i < len(s); i++ {
		if s[i] != '\\' || i+1 == len(s) {
			dst = append(dst, s[i])
			continue
		}
		i++
		switch c := s[i]; c {
		case 'n':
			dst = append(dst, '\n')
		case 'r':
			dst = append(dst, '\r')
		case 't':
			dst = append(dst, '\t')
		case 'b':
			dst = append(dst, '\b')
		case 'f':
			dst = append(dst, '\f')
		case '\n':
		case '\r':
			if i+1 < len(s) && s[i+1] == '\n' {
				i++
			}
		case '0', '1', '2', '3', '4', '5', '6', '7':
			v := 0
			j := i
			for ; j < min(i+3, len(s)) && s[j] >= '0' && s[j] <= '7'; j++ {
				v = v<<3 | int(s[j]-'0')
			}
			i = j - 1
			dst = append(dst, byte(v))
		default:
			dst = append(dst, c)
		}
	}
	return dst
}

// NameString undoes the #xx of a name (7.3.5).
func (t Token) NameString() string {
	for i, c := range t.Raw {
		if c == '#' {
			return unsharp(t.Raw, i)
		}
	}
	return string(t.Raw)
}

func unsharp(s []byte, from int) string {
	out := append([]byte(nil), s[:from]...)
	for i := from; i < len(s); i++ {
		if s[i] == '#' && i+2 < len(s) {
			hi, ok1 := HexDigit(s[i+1])
			lo, ok2 := HexDigit(s[i+2])
			if ok1 && ok2 {
				out = append(out, hi<<4|lo)
				i += 2
				continue
			}
		}
		out = append(out, s[i])
	}
	return string(out)
}
