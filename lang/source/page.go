package source

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// pageSize is how long a page is at least, in bytes, where the text goes on behind it.
const pageSize = 4 << 10

// page is a part of a text where it stands.
type page struct {
	*leaf
	at   int32 // offset of its first byte
	line int32 // number of its first line
}

// leaf is what a page says, wherever it stands. Each but a text's last ends with a "\n",
// so that no line, and with it no line ending and no character, is on two pages.
type leaf struct {
	text       string
	lines      []int32 // offset of each line's first byte; always starts with 0
	semicolons int
	valid      bool // UTF-8
}

func newLeaf(text string, last bool) *leaf {
	l := &leaf{text: text, lines: lineStarts(make([]int32, 1, 2+strings.Count(text, "\n")), text), semicolons: strings.Count(text, ";"), valid: utf8.ValidString(text)}
	if !last {
		l.lines = l.lines[:len(l.lines)-1] // the next page begins with it
	}
	return l
}

// lineStarts appends the offset of every line that starts behind a line ending of text.
func lineStarts(to []int32, text string) []int32 {
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '\n':
			to = append(to, int32(i+1))
		case '\r':
			if i+1 == len(text) || text[i+1] != '\n' {
				to = append(to, int32(i+1))
			}
		}
	}
	return to
}

// lineOf is the line of the page in which an offset of it lies.
func (l *leaf) lineOf(offset int) int {
	return max(sort.Search(len(l.lines), func(i int) bool { return int(l.lines[i]) > offset })-1, 0)
}

// paginate appends the pages of a piece of text; last tells that nothing follows it.
// Else it ends with a "\n".
func paginate(to []page, text string, last bool) []page {
	for len(text) > 2*pageSize {
		end := strings.IndexByte(text[pageSize:], '\n') + 1
		if end == 0 || pageSize+end == len(text) && !last {
			break
		}
		to = append(to, page{leaf: newLeaf(text[:pageSize+end], false)})
		text = text[pageSize+end:]
	}
	return append(to, page{leaf: newLeaf(text, last)})
}

// number tells the pages from one on where they stand.
func (f *File) number(from int) {
	at, line := int32(0), int32(0)
	if from > 0 {
		before := f.pages[from-1]
		at, line = before.at+int32(len(before.text)), before.line+int32(len(before.lines))
	}
	for i := from; i < len(f.pages); i++ {
		p := &f.pages[i]
		p.at, p.line = at, line
		at, line = at+int32(len(p.text)), line+int32(len(p.lines))
	}
}

// pageNumber is that of the page that an offset is on: where it begins or further in, or
// the last at the text's end.
func (f *File) pageNumber(offset int) int {
	return max(sort.Search(len(f.pages), func(i int) bool { return int(f.pages[i].at) > offset })-1, 0)
}

func (f *File) page(offset int) page { return f.pages[f.pageNumber(offset)] }

// Edit returns the text with the bytes under span replaced. The pages that the span does
// not touch are shared; the receiver stays as it was.
func (f *File) Edit(span Span, replacement string) *File {
	span = f.clamp(span)
	first, last := f.pageNumber(span.Start), f.pageNumber(span.End)
	head := f.pages[first].text[:span.Start-int(f.pages[first].at)]
	tail := f.pages[last].text[span.End-int(f.pages[last].at):]
	text := head + replacement + tail
	for len(text) < pageSize/4 && last < len(f.pages)-1 {
		last++
		text += f.pages[last].text
	}
	next := &File{path: f.path, pages: make([]page, 0, len(f.pages)+len(text)/pageSize+1)}
	next.pages = append(next.pages, f.pages[:first]...)
	next.pages = paginate(next.pages, text, last == len(f.pages)-1)
	next.pages = append(next.pages, f.pages[last+1:]...)
	next.number(first)
	return next
}

// Shared counts the bytes that two versions of a text share at the front and, beyond
// that, at the back.
func Shared(old, now *File) (front, back int) {
	most := min(old.Len(), now.Len())
	for front < most {
		a, b := old.behind(front), now.behind(front)
		n := min(len(a), len(b))
		same := n
		if a[:n] != b[:n] {
			same = commonPrefix(a[:n], b[:n])
		}
		if front += same; same < n {
			break
		}
	}
	for most -= front; back < most; {
		a, b := old.before(old.Len()-back), now.before(now.Len()-back)
		n := min(len(a), len(b), most-back)
		a, b = a[len(a)-n:], b[len(b)-n:]
		same := n
		if a != b {
			same = commonSuffix(a, b)
		}
		if back += same; same < n {
			break
		}
	}
	return front, back
}

// behind is the text from an offset, which is not the text's end, to the end of its page.
func (f *File) behind(offset int) string {
	p := f.page(offset)
	return p.text[offset-int(p.at):]
}

// before is the text up to an offset, which is not 0, from the beginning of a page.
func (f *File) before(offset int) string {
	p := f.page(offset - 1)
	return p.text[:offset-int(p.at)]
}

const stride = 256

func commonPrefix(a, b string) int {
	n := min(len(a), len(b))
	i := 0
	for i+stride <= n && a[i:i+stride] == b[i:i+stride] {
		i += stride
	}
	for i < n && a[i] == b[i] {
		i++
	}
	return i
}

func commonSuffix(a, b string) int {
	n := min(len(a), len(b))
	i := 0
	for i+stride <= n && a[len(a)-i-stride:len(a)-i] == b[len(b)-i-stride:len(b)-i] {
		i += stride
	}
	for i < n && a[len(a)-1-i] == b[len(b)-1-i] {
		i++
	}
	return i
}
