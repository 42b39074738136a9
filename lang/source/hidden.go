package source

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// plainByte marks the bytes that are no part of a hidden character: printed
// ASCII, tab and line ends.
var plainByte = func() (table [256]bool) {
	for c := range 0x7F {
		table[c] = c >= ' ' || c == '\t' || c == '\n' || c == '\r'
	}
	return table
}()

// Hidden are the offsets of the characters between two offsets of a text that
// nobody sees: controls but tab and line ends, marks that turn the direction of
// what is written, what takes no room, fillers that look like a space, and
// separators of lines that are no line ends. By Unicode: the general categories Cc,
// Cf, Zl, Zp, less the signs of Cf that are seen, what else is ignorable by
// default (Default_Ignorable_Code_Point: fillers, joiners, variation selectors), and
// the blank of Braille. A joiner between two characters beyond ASCII belongs to
// them, as some scripts and many pictures need it, and so does a selector to
// the picture, ideograph or letter whose form it selects; a byte order mark at
// the very start belongs to the file.
func Hidden(text string, from, to int) (offsets []int32) {
	for i := from; i < to; {
		if plainByte[text[i]] {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		if hidden(text, i, r, size) {
			offsets = append(offsets, int32(i))
		}
		i += size
	}
	return offsets
}

const (
	nonJoiner     = '\u200C'
	joiner        = '\u200D'
	byteOrderMark = '\uFEFF'
	brailleBlank  = '\u2800'
	asText        = '\uFE0E'
	asPicture     = '\uFE0F'
	keycap        = '\u20E3'
)

func hidden(text string, at int, r rune, size int) bool {
	switch {
	case r < utf8.RuneSelf:
		return !plainByte[byte(r)]
	case r == utf8.RuneError:
		return false
	case r == joiner || r == nonJoiner:
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(text[at+size:])
		return !joins(before) || !joins(after)
	case r == byteOrderMark:
		return at > 0
	case unicode.Is(unicode.Variation_Selector, r):
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		return !selects(before, r, text[at+size:])
	}
	return unseen(r)
}

func unseen(r rune) bool {
	return r == brailleBlank || unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Other_Default_Ignorable_Code_Point) &&
		!unicode.Is(unicode.Prepended_Concatenation_Mark, r)
}

// selects tells whether a variation selector has a character before it whose form it
// selects: a picture's, that of a key (1, selector, key), an ideograph's, a Mongolian letter's.
func selects(before, selector rune, rest string) bool {
	switch {
	case selector == asText || selector == asPicture:
		return unicode.In(before, unicode.So, unicode.Sm) && before >= utf8.RuneSelf || strings.ContainsRune("‼⁉〰ℹ", before) ||
			strings.ContainsRune("#*0123456789", before) && strings.HasPrefix(rest, string(keycap))
	case unicode.Is(unicode.Mongolian, selector):
		return unicode.Is(unicode.Mongolian, before) && unicode.IsLetter(before)
	}
	return unicode.Is(unicode.Han, before)
}

// joins tells whether a character may have a joiner beside it.
func joins(r rune) bool { return r >= utf8.RuneSelf && r != utf8.RuneError && !unseen(r) }

// Visible is a text to be shown: each hidden character as \u{202E}, with its
// number, and the others as they are, tabs and line ends too.
func Visible(text string) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return r >= utf8.RuneSelf || !plainByte[byte(r)] }) {
		return text
	}
	offsets := Hidden(text, 0, len(text))
	if strings.HasPrefix(text, string(byteOrderMark)) { // which a file may have, and nothing that is shown
		offsets = append([]int32{0}, offsets...)
	}
	if len(offsets) == 0 {
		return text
	}
	var b strings.Builder
	last := 0
	for _, at := range offsets {
		r, size := utf8.DecodeRuneInString(text[at:])
		b.WriteString(text[last:at])
		b.WriteString(Code(r))
		last = int(at) + size
	}
	b.WriteString(text[last:])
	return b.String()
}

// Code is a character's number as it is shown: \u{202E}.
func Code(r rune) string { return fmt.Sprintf(`\u{%04X}`, r) }

// VisibleJSON is an encoded JSON document in which each hidden character of a
// text is written as an escape of JSON's own: it says the same.
func VisibleJSON(data []byte) []byte {
	text := string(data)
	offsets := Hidden(text, 0, len(text))
	if len(offsets) == 0 {
		return data
	}
	var b []byte
	last := 0
	for _, at := range offsets {
		r, size := utf8.DecodeRuneInString(text[at:])
		b = append(b, text[last:at]...)
		if r > 0xFFFF {
			r -= 0x10000
			b = fmt.Appendf(b, `\u%04x\u%04x`, 0xD800+r>>10, 0xDC00+r&0x3FF)
		} else {
			b = fmt.Appendf(b, `\u%04x`, r)
		}
		last = int(at) + size
	}
	return append(b, text[last:]...)
}
