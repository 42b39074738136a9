// Package source holds text: files, byte spans, and the conversion between
// byte offsets and the line-and-column positions that people and editors use.
//
// The one position currency inside hemline is the byte offset. Only this
// package converts it; every unit it converts to has a name.
package source

import (
	"slices"
	"sort"
	"strings"
	"sync/atomic"
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
// or a lone "\r". The text is held in pages, which an edit shares with the version
// before but for those that it touches.
type File struct {
	path  string
	pages []page // at least one
	whole atomic.Pointer[string]
}

// New makes a file from its path (as it is to be shown) and its text.
func New(path, text string) *File {
	f := &File{path: path, pages: paginate(nil, text, true)}
	f.whole.Store(&text)
	f.number(0)
	return f
}

// Path is the name the file was made with.
func (f *File) Path() string { return f.path }

// Text is the whole text. Of a version that an edit made it is put together when it is
// first asked for.
func (f *File) Text() string {
	if whole := f.whole.Load(); whole != nil {
		return *whole
	}
	var b strings.Builder
	b.Grow(f.Len())
	for _, p := range f.pages {
		b.WriteString(p.text)
	}
	text := b.String()
	f.whole.Store(&text)
	return text
}

// Len is the text's length in bytes.
func (f *File) Len() int {
	last := f.pages[len(f.pages)-1]
	return int(last.at) + len(last.text)
}

// Lines is the number of lines; a text that ends with a newline has an empty last line.
func (f *File) Lines() int {
	last := f.pages[len(f.pages)-1]
	return int(last.line) + len(last.lines)
}

// Semicolons is how many there are in the text.
func (f *File) Semicolons() (n int) {
	for _, p := range f.pages {
		n += p.semicolons
	}
	return n
}

// Valid tells whether the text is UTF-8.
func (f *File) Valid() bool {
	return !slices.ContainsFunc(f.pages, func(p page) bool { return !p.valid })
}

// Slice is the text under a span; a span that leaves the text is cut to it.
func (f *File) Slice(s Span) string {
	s = f.clamp(s)
	if p := f.page(s.Start); s.End <= int(p.at)+len(p.text) {
		return p.text[s.Start-int(p.at) : s.End-int(p.at)]
	}
	text, _ := f.From(s.Start, s.Len())
	return text[:s.Len()]
}

// From is the text from an offset on, as far as the end of a page at least so many bytes
// behind it; whole tells that this is all there is.
func (f *File) From(offset, least int) (text string, whole bool) {
	if known := f.whole.Load(); known != nil {
		return (*known)[offset:], true
	}
	i := f.pageNumber(offset)
	text = f.pages[i].text[offset-int(f.pages[i].at):]
	if len(text) >= least || i == len(f.pages)-1 {
		return text, i == len(f.pages)-1
	}
	var b strings.Builder
	b.WriteString(text)
	for i++; i < len(f.pages) && b.Len() < least; i++ {
		b.WriteString(f.pages[i].text)
	}
	return b.String(), i == len(f.pages)
}

func (f *File) clamp(s Span) Span {
	length := f.Len()
	s.Start = min(max(s.Start, 0), length)
	s.End = min(max(s.End, s.Start), length)
	return s
}

// LineOf is the line, from 0, in which a byte offset lies.
func (f *File) LineOf(offset int) int {
	p := f.page(offset)
	return int(p.line) + p.lineOf(offset-int(p.at))
}

// Line is the span of a line without its line ending. A line outside the
// text is the empty span at the nearest end.
func (f *File) Line(line int) Span {
	if line < 0 {
		return Span{}
	}
	if line >= f.Lines() {
		return Span{f.Len(), f.Len()}
	}
	i := sort.Search(len(f.pages), func(i int) bool { return int(f.pages[i].line) > line }) - 1
	p := f.pages[i]
	line -= int(p.line)
	start, end := int(p.lines[line]), len(p.text)
	if line+1 < len(p.lines) {
		end = int(p.lines[line+1])
	}
	at := int(p.at) + start
	return Span{at, at + len(strings.TrimRight(p.text[start:end], "\r\n"))}
}

// Position converts a byte offset. An offset outside the text is cut to it;
// one inside a character counts as the character's start.
func (f *File) Position(offset int, enc Encoding) Position {
	offset = min(max(offset, 0), f.Len())
	p := f.page(offset)
	within := offset - int(p.at)
	for within > 0 && within < len(p.text) && !utf8.RuneStart(p.text[within]) {
		within--
	}
	line := p.lineOf(within)
	return Position{int(p.line) + line, Units(p.text[p.lines[line]:within], enc)}
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
	line, i := f.Slice(span), 0
	for left := p.Column; i < len(line) && left > 0; {
		r, size := rune(line[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(line[i:])
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
	return span.Start + i
}
