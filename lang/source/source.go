// Package source holds text: files, byte spans, and the conversion between
// byte offsets and the line-and-column positions that people and editors use.
//
// The one position currency inside hemline is the byte offset. Only this
// package converts it; every unit it converts to has a name.
package source

import (
	"strings"
	"unicode/utf8"
)

// Span is a half-open range of bytes of one text: 0 <= Start <= End <= length.
type Span struct{ Start, End int }

// Len is the number of bytes covered.
func (s Span) Len() int { return s.End - s.Start }

// Contains tells whether offset lies in the span or at either of its ends,
// which is what a cursor between two characters needs.
func (s Span) Contains(offset int) bool { return s.Start <= offset && offset <= s.End }

// Encoding names what a column counts.
type Encoding int

const (
	// Bytes counts bytes of UTF-8.
	Bytes Encoding = iota
	// UTF16 counts 16-bit code units, the default of the language server protocol.
	UTF16
	// Runes counts code points (UTF-32 units).
	Runes
)

// Position is a line and a column, both counted from 0. What the column
// counts is the Encoding it was made with.
type Position struct{ Line, Column int }

// File is one immutable version of one text. A line ends with "\n", "\r\n"
// or a lone "\r".
type File struct {
	path  string
	text  string
	lines []int32 // offset of each line's first byte; always starts with 0
}

// New makes a file from its path (as it is to be shown) and its text.
func New(path, text string) *File {
	return &File{path: path, text: text, lines: lineStarts(make([]int32, 1, 1+len(text)/32), text, 0)}
}

// lineStarts appends the offset (plus base) of every line that starts inside text.
func lineStarts(to []int32, text string, base int) []int32 {
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '\n':
			to = append(to, int32(base+i+1))
		case '\r':
			if i+1 == len(text) || text[i+1] != '\n' {
				to = append(to, int32(base+i+1))
			}
		}
	}
	return to
}

// Path is the name the file was made with.
func (f *File) Path() string { return f.path }

// Text is the whole text.
func (f *File) Text() string { return f.text }

// Len is the text's length in bytes.
func (f *File) Len() int { return len(f.text) }

// Lines is the number of lines; a text that ends with a newline has an empty last line.
func (f *File) Lines() int { return len(f.lines) }

// Slice is the text under a span; a span that leaves the text is cut to it.
func (f *File) Slice(s Span) string {
	s = f.clamp(s)
	return f.text[s.Start:s.End]
}

func (f *File) clamp(s Span) Span {
	s.Start = min(max(s.Start, 0), len(f.text))
	s.End = min(max(s.End, s.Start), len(f.text))
	return s
}

// LineOf is the line, from 0, in which a byte offset lies.
func (f *File) LineOf(offset int) int {
	low, high := 0, len(f.lines)
	for high-low > 1 {
		if mid := (low + high) / 2; int(f.lines[mid]) <= offset {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Line is the span of a line without its line ending. A line outside the
// text is the empty span at the nearest end.
func (f *File) Line(line int) Span {
	if line < 0 {
		return Span{}
	}
	if line >= len(f.lines) {
		return Span{len(f.text), len(f.text)}
	}
	start, end := int(f.lines[line]), len(f.text)
	if line+1 < len(f.lines) {
		end = int(f.lines[line+1])
	}
	return Span{start, start + len(strings.TrimRight(f.text[start:end], "\r\n"))}
}

// Position converts a byte offset. An offset outside the text is cut to it;
// one inside a character counts as the character's start.
func (f *File) Position(offset int, enc Encoding) Position {
	offset = min(max(offset, 0), len(f.text))
	for offset > 0 && offset < len(f.text) && !utf8.RuneStart(f.text[offset]) {
		offset--
	}
	line := f.LineOf(offset)
	return Position{line, Units(f.text[f.lines[line]:offset], enc)}
}

// Units is the length of text in the encoding's units. A byte that is not
// UTF-8 counts as one unit in each of them.
func Units(text string, enc Encoding) int {
	switch enc {
	case UTF16:
		n := 0
		for i := 0; i < len(text); {
			if text[i] < utf8.RuneSelf {
				i++
				n++
				continue
			}
			r, size := utf8.DecodeRuneInString(text[i:])
			i += size
			n++
			if r > 0xFFFF {
				n++
			}
		}
		return n
	case Runes:
		return utf8.RuneCountInString(text)
	default:
		return len(text)
	}
}

// Offset converts a position to a byte offset. As the language server
// protocol asks, a column past the end of its line means the line's end and a
// line past the text means the text's end; a column inside a character (half
// of a surrogate pair) means the character's start.
func (f *File) Offset(p Position, enc Encoding) int {
	if p.Line < 0 {
		return 0
	}
	span := f.Line(p.Line)
	if p.Column <= 0 {
		return span.Start
	}
	i := span.Start
	for left := p.Column; i < span.End && left > 0; {
		r, size := rune(f.text[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(f.text[i:span.End])
		}
		switch {
		case enc == Bytes:
			left -= size
		case enc == UTF16 && r > 0xFFFF:
			left -= 2
		default:
			left--
		}
		if left < 0 {
			break
		}
		i += size
	}
	return i
}

// Edit returns the text with the bytes under span replaced. The line table is
// patched, not read anew; the receiver stays as it was.
func (f *File) Edit(span Span, replacement string) *File {
	span = f.clamp(span)
	text := f.text[:span.Start] + replacement + f.text[span.End:]
	// A "\r\n" may be split or made at either seam, so the lines are read
	// again from one byte before the edit to one byte after it.
	from := max(span.Start-1, 0)
	until := min(span.Start+len(replacement)+1, len(text))
	shift := len(replacement) - span.Len()
	keep := f.LineOf(from) + 1 // lines that start at or before from
	lines := make([]int32, keep, len(f.lines)+strings.Count(replacement, "\n")+2)
	copy(lines, f.lines[:keep])
	lines = lineStarts(lines, text[from:until], from)
	if until < len(text) && until > 0 && text[until-1] == '\r' && text[until] == '\n' {
		lines = lines[:len(lines)-1] // the pair goes on past the part that was read
	}
	oldUntil := until - shift
	for _, start := range f.lines[f.LineOf(oldUntil)+1:] {
		lines = append(lines, start+int32(shift))
	}
	return &File{path: f.path, text: text, lines: lines}
}
