package source

import (
	"cmp"
	"slices"
	"unicode/utf8"
)

// Edit replaces what is under a span of a text. Several of one text count from the same
// version of it and do not lie over each other.
type Edit struct {
	Span Span
	Text string
}

// Make is the file with edits made, in the order of their places.
func (f *File) Make(edits []Edit) *File {
	for _, e := range slices.Backward(Ordered(edits)) { // those before it stay where they are
		f = f.Edit(e.Span, e.Text)
	}
	return f
}

// Append is the edit that puts a line behind all others.
func (f *File) Append(line string) Edit {
	end := f.Len()
	if end > 0 && f.Slice(Span{end - 1, end}) != "\n" {
		line = "\n" + line
	}
	return Edit{Span{end, end}, line + "\n"}
}

// Ordered are edits by their places; those at one place as they were given.
func Ordered(edits []Edit) []Edit {
	list := slices.Clone(edits)
	slices.SortStableFunc(list, func(x, y Edit) int {
		return cmp.Or(cmp.Compare(x.Span.Start, y.Span.Start), cmp.Compare(x.Span.End, y.Span.End))
	})
	return list
}

// Apart tells whether no two edits lie over each other.
func Apart(edits []Edit) bool {
	list := Ordered(edits)
	for i := 1; i < len(list); i++ {
		if list[i].Span.Start < list[i-1].Span.End {
			return false
		}
	}
	return true
}

// Then are the edits that do to a text at once what edits of it and then edits of the outcome
// do; ok is false where one of the latter changes what one of the former wrote.
func Then(first, second []Edit) (both []Edit, ok bool) {
	first = Ordered(first)
	var before, after []Edit // of those that insert at one place, in front of what the former wrote
	for _, e := range second {
		shift, clear, front := 0, true, false
		for _, f := range first {
			start := f.Span.Start + shift // where what it wrote lies in the outcome
			end := start + len(f.Text)
			if e.Span.End <= start && (e.Span.Start < start || len(f.Text) > 0) {
				front = e.Span.End == start
				break // it lies before
			}
			if e.Span.Start < end {
				clear = false
				break
			}
			shift += len(f.Text) - f.Span.Len()
		}
		if !clear {
			return nil, false
		}
		e.Span.Start, e.Span.End = e.Span.Start-shift, e.Span.End-shift
		if front {
			before = append(before, e)
		} else {
			after = append(after, e)
		}
	}
	both = Ordered(slices.Concat(before, first, after))
	return both, Apart(both)
}

// Clear tells whether some edits neither lie over others nor touch them: whichever are made
// first, it comes to the same.
func Clear(some, others []Edit) bool {
	for _, a := range some {
		for _, b := range others {
			if a.Span.Start <= b.Span.End && b.Span.Start <= a.Span.End {
				return false
			}
		}
	}
	return true
}

// Difference is the one edit that makes a text of another, in whole characters.
func Difference(old, now string) Edit {
	front, back := Common([]byte(old), []byte(now))
	for front > 0 && front < len(old) && !utf8.RuneStart(old[front]) {
		front--
	}
	for back > 0 && !utf8.RuneStart(old[len(old)-back]) {
		back--
	}
	return Edit{Span{front, len(old) - back}, now[front : len(now)-back]}
}
