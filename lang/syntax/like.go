package syntax

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/source"
)

// The words of repetition.
const (
	typical    = "typical"
	likeClause = "like"
	noClause   = "no"
)

// followers are the kinds whose items may be like another, in the order of the vocabulary.
var followers = []string{"hole", "plating", "connector", "tab", "castellation", "fence"}

// placed are the clauses that say where an item is: they are its own.
var placed = []string{"on", "at", "from", "to", "along", "except"}

// addRepetition gives the kinds that may follow another item their `like` and
// `no`, and `typical` a clause for each of them. It runs before words are gathered.
func addRepetition() {
	t := vocabulary[slices.IndexFunc(vocabulary, func(s *Spec) bool { return s.Word == typical })]
	var kinds []string
	for _, word := range followers {
		s := vocabulary[slices.IndexFunc(vocabulary, func(s *Spec) bool { return s.Word == word })]
		away := withoutThem(s)
		s.Clauses = append(s.Clauses,
			clause(likeClause, "Takes each clause that is not stated here from a typical or another "+word+", but for its place.", arg("NAME", VRef, typical, word)),
			clause(noClause, "Does without a clause of what it is `like`.").repeat().with(away...))
		s.Clauses[len(s.Clauses)-1].OneOf = [][]string{words(away)}
		k := clause(word, "What is typical of "+word+"s.")
		k.OneOf, k.Partial = s.OneOf, true
		for _, c := range s.Clauses {
			if !slices.Contains(placed, c.Word) {
				k.Clauses = append(k.Clauses, c)
			}
		}
		t.Clauses = append(t.Clauses, k)
		kinds = append(kinds, word)
	}
	t.OneOf = [][]string{kinds}
}

// withoutThem are the clauses of a kind that may be left out, and those of such
// clauses, each as a word alone, for `no`.
func withoutThem(s *Spec) (list []*Spec) {
	var add func(s *Spec)
	add = func(s *Spec) {
		for _, c := range s.Clauses {
			free := !c.Required && !s.Alternative(c.Word) && !slices.Contains(placed, c.Word)
			if free && !slices.Contains(words(list), c.Word) {
				list = append(list, clause(c.Word, "Without it."))
			}
			add(c)
		}
	}
	add(s)
	return list
}

func words(list []*Spec) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = s.Word
	}
	return out
}

// Like is what a statement says that its item is like: its clause, nil where it
// says nothing of it, and the name.
func (r *Reading) Like() (c *Clause, name string) {
	if c = r.Body().Get(likeClause); c == nil {
		return nil, ""
	}
	name, _ = c.Values[0].Word()
	return c, name
}

// Body is what holds the clauses of the statement's item: of a typical the
// clause with its kind's keyword, where there is one, else the statement.
func (r *Reading) Body() *Clause {
	if r.Spec.Word == typical && len(r.Clauses) > 0 {
		return r.Clauses[0]
	}
	return &r.Clause
}

// Following is the name that a statement says its item is like, "" for none, read
// from its tokens alone.
func (s *Statement) Following() string { return s.like }

// findLike notes what a line of the statement says that it is like.
func (s *Statement) findLike(n *Node) {
	for i := 1; i+1 < len(n.tokens) && s.like == ""; i++ {
		if n.tokens[i].Kind == Keyword && n.text(i) == likeClause {
			s.like = Unquote(n.text(i + 1))
		}
	}
	if len(n.tokens) > 1 && n.tokens[0].Kind == Keyword && n.text(0) == likeClause {
		s.like = Unquote(n.text(1))
	}
}

// Inherit is the reading of a statement with what it takes over from a model's
// clauses, at the place of its own `like`, to which everything that is taken
// over belongs. What is wrong with it only then is among its problems.
func (r *Reading) Inherit(model *Clause) *Reading {
	out := *r
	out.Problems = nil
	x := reader{r: &out, composed: true}
	own := r.Body()
	like := own.Get(likeClause)
	body := *own
	body.Clauses = slices.Clone(own.Clauses)
	via := like.Place()
	for _, c := range model.Clauses {
		if own.takes(c) {
			k := *c
			k.Values = own.left(c)
			body.Clauses = append(body.Clauses, own.taken(&k, via))
		}
	}
	if r.Spec.Word == typical {
		out.Clauses = append([]*Clause{&body}, r.Clauses[1:]...)
	} else {
		out.Clause = body
	}
	if r.Whole {
		x.complete(&body)
	}
	return &out
}

// takes tells whether a clause of a model is taken over: it is not the model's
// own, nor stated here, nor is one that may not stand beside it, nor taken away.
func (c *Clause) takes(k *Clause) bool {
	word := k.Spec.Word
	if k.Broken || word == likeClause || word == noClause || slices.Contains(placed, word) || c.Without(word) {
		return false
	}
	if word == "pitch" && c.Stands("at") {
		return false
	}
	for _, group := range c.Spec.OneOf {
		if slices.Contains(group, word) && c.countOf(group) > 0 {
			return false
		}
	}
	if k.ofFaces() {
		return len(c.left(k)) > len(k.Values)-k.endOf(0, 0)
	}
	return !c.Stands(word)
}

// ofFaces tells whether a clause says something of faces that it names first.
func (c *Clause) ofFaces() bool {
	return len(c.Spec.Args) > 0 && c.Spec.Args[0].Kind == VFace && len(c.Values) > 0
}

// left are the values of a model's clause without the faces that clauses stated
// here speak of.
func (c *Clause) left(k *Clause) []Value {
	if !k.ofFaces() {
		return k.Values
	}
	stated := map[string]bool{}
	for _, own := range c.Clauses {
		if own.Spec.Word != k.Spec.Word || len(own.Values) == 0 {
			continue
		}
		for _, v := range own.Values[:own.endOf(0, 0)] {
			word, _ := v.Word()
			stated[word] = true
		}
	}
	end := k.endOf(0, 0)
	var list []Value
	for _, v := range k.Values[:end] {
		if word, _ := v.Word(); !stated[word] {
			list = append(list, v)
		}
	}
	return append(list, k.Values[end:]...)
}

// Without tells whether a clause is taken away by `no`.
func (c *Clause) Without(word string) bool {
	return slices.ContainsFunc(c.All(noClause), func(no *Clause) bool { return no.Stands(word) })
}

// taken is a clause of a model as the follower has it, at a place of its own.
func (c *Clause) taken(k *Clause, via source.Place) *Clause {
	out := *k
	out.Keyword, out.end = via, via.End
	out.Values = make([]Value, len(k.Values))
	for i, v := range k.Values {
		v.via = via
		out.Values[i] = v
	}
	out.Clauses = nil
	for _, sub := range k.Clauses {
		if !c.Without(sub.Spec.Word) {
			out.Clauses = append(out.Clauses, c.taken(sub, via))
		}
	}
	return &out
}

// noKind reports a word in the place of a typical's kind that is none.
func (x *reader) noKind(v Value) {
	x.kindless = true
	word, _ := v.Word()
	p := Problem{Rule: RuleWrongValue, Place: v.Place(), Message: fmt.Sprintf("a typical is of one of %s; %s is none", strings.Join(followers, ", "), v.Source())}
	if near, ok := Nearest(word, followers); ok {
		p.Message += fmt.Sprintf("; did you mean %s?", near)
		p.Replace = near
	}
	x.r.Problems = append(x.r.Problems, p)
}

// checkLike reports what may not stand together with `like`, or without it.
func (x *reader) checkLike(c *Clause) {
	if x.composed {
		return // it was, as the statement stood
	}
	for _, no := range c.All(noClause) {
		if !c.Stands(likeClause) {
			x.problem(RuleWrongValue, no.Keyword, "no takes away a clause of what this %s is like: it stands only beside like", x.r.Spec.Word)
			return
		}
		for _, k := range no.Clauses {
			if c.Stands(k.Spec.Word) {
				x.problem(RuleRepeated, no.Place(), "%s is stated here and taken away", k.Spec.Word)
			}
		}
	}
}

// Title says which kind of item a model's statement states: "typical tab", "tab".
func (r *Reading) Title() string {
	if r.Spec.Word == typical {
		return fmt.Sprint(typical, " ", r.Body().Spec.Word)
	}
	return r.Spec.Word
}

// Taken tells whether the value is taken over from what its statement is like.
func (v Value) Taken() bool { return v.via.Anchor != nil }

// Member is the reading of one member of a row, counted from 0: it has one of
// the positions, and of several nets the one in turn.
func (r *Reading) Member(i int) *Reading {
	out := *r
	out.Clauses = slices.Clone(r.Clauses)
	for k, c := range out.Clauses {
		if word := c.Spec.Word; (word == "at" || word == "net") && len(c.Values) > 1 && i < len(c.Values) {
			one := *c
			one.Values = c.Values[i : i+1 : i+1]
			one.Keyword, one.end = one.Values[0].Place(), one.Values[0].Place().End
			out.Clauses[k] = &one
		}
	}
	return &out
}
