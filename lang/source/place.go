package source

// Anchor is what a place in a text is fastened to: a statement, which keeps
// its identity while the text before it is edited. Anchors of one file are
// ordered by Order, so that where an anchor stands now is found by a binary
// search in the file's present list of statements.
type Anchor struct {
	Path  string // the file, by the name it is shown under
	Order uint64
}

// Place is a range of bytes relative to its anchor's first byte. The zero
// Place, with no anchor, is nowhere.
type Place struct {
	Anchor     *Anchor
	Start, End int32
}

// Cover is the smallest place that holds both; they must share an anchor.
func (p Place) Cover(q Place) Place {
	switch {
	case p.Anchor == nil:
		return q
	case q.Anchor != p.Anchor:
		return p
	}
	return Place{p.Anchor, min(p.Start, q.Start), max(p.End, q.End)}
}
