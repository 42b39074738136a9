package syntax

import (
	"slices"
	"sort"
)

// chunkPage is how many chunks a page of a list holds, about.
const chunkPage = 128

// chunks is a list of chunks in pages, which a version shares with the one before but
// for those that an edit touches. The pages behind an edit only move.
type chunks struct {
	pages []chunksPage
	n     int
}

type chunksPage struct {
	list []chunk // never empty
	by   int32   // how far the page has moved since it was made
	from int32   // the number of its first chunk
}

func newChunks(list []chunk) chunks {
	var c chunks
	c.add(list)
	return c
}

// add appends chunks as pages of their own, so that one that is gone keeps no other alive.
func (c *chunks) add(list []chunk) {
	for len(list) > 0 {
		n := len(list)
		if n > 2*chunkPage {
			n = chunkPage
		}
		c.pages = append(c.pages, chunksPage{list: slices.Clone(list[:n]), from: int32(c.n)})
		c.n += n
		list = list[n:]
	}
}

// page is the number of the page that the chunk of a number is on.
func (c *chunks) page(i int) int {
	return sort.Search(len(c.pages), func(k int) bool { return int(c.pages[k].from) > i }) - 1
}

// at is the chunk of a number.
func (c *chunks) at(i int) chunk {
	p := &c.pages[c.page(i)]
	ch := p.list[i-int(p.from)]
	return chunk{ch.start + p.by, ch.at + p.by, ch.stmt}
}

// some are the chunks from one number up to another.
func (c *chunks) some(from, to int) []chunk {
	list := make([]chunk, 0, to-from)
	for k := max(c.page(from), 0); k < len(c.pages) && len(list) < to-from; k++ {
		p := &c.pages[k]
		for i := max(from-int(p.from), 0); i < len(p.list) && int(p.from)+i < to; i++ {
			ch := p.list[i]
			list = append(list, chunk{ch.start + p.by, ch.at + p.by, ch.stmt})
		}
	}
	return list
}

// splice is the list with those from one number up to another replaced, and what follows
// moved.
func (c *chunks) splice(from, to int, fresh []chunk, by int32) chunks {
	if c.n == 0 {
		return newChunks(fresh)
	}
	first, last := c.page(min(from, c.n-1)), c.page(min(to, c.n-1))
	next := chunks{pages: make([]chunksPage, 0, len(c.pages)+len(fresh)/chunkPage+2)}
	next.pages = append(next.pages, c.pages[:first]...)
	next.n = int(c.pages[first].from)
	end := int(c.pages[last].from) + len(c.pages[last].list)
	list := append(c.some(next.n, from), fresh...)
	for _, ch := range c.some(to, end) {
		list = append(list, chunk{ch.start + by, ch.at + by, ch.stmt})
	}
	if len(list) < chunkPage/4 && last+1 < len(c.pages) { // else the pages would crumble
		last++
		for _, ch := range c.some(end, end+len(c.pages[last].list)) {
			list = append(list, chunk{ch.start + by, ch.at + by, ch.stmt})
		}
	}
	next.add(list)
	for _, p := range c.pages[last+1:] {
		next.pages = append(next.pages, chunksPage{p.list, p.by + by, int32(next.n)})
		next.n += len(p.list)
	}
	return next
}
