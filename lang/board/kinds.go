package board

import (
	"slices"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Kind is what is known of one kind of statement. The table of kinds is the
// only list of them: what else goes by kinds asks it, or is held to be complete
// against it by a test.
type Kind struct {
	Word string // its keyword
	// Once tells that a text states it once.
	Once bool
	// Carried tells that `use` brings it in from another file.
	Carried bool
	// Accepts tells that a finding may be on it, so that an acceptance may name it.
	Accepts bool
	// Symbol is what it looks like in a text's outline.
	Symbol Symbol

	// own tells that its names are a set of their own, beside that of the items.
	own bool
	// read makes the item of a statement; nil for a kind that has none, and what
	// it returns is nil where too little of the statement could be read.
	read func(*meaning, *syntax.Reading, Item) any
	// enter puts a statement of which an env is made into it; nil for the others.
	enter func(*env, *entry)
	// lists keeps the kind's items; nil for a kind that has none.
	lists lister
	reads Reads
	// refers ties the names of other items that an item reads, each to the kinds
	// whose names they may be.
	refers func(item any, t *tying)
	// nets lists the nets that an item names.
	nets func(item any) []Name
	// count is how many things an item's row holds and where the number comes
	// from; nil for what is one thing.
	count func(item any) (int, source.Place)

	order    int  // in the table
	referred bool // others refer to it by name
	follows  bool // its items may be like others
}

// Symbol is what a kind, or a clause of it that gives a name, looks like in a
// text's outline.
type Symbol string

// The symbols.
const (
	SymbolObject   Symbol = "object"
	SymbolModule   Symbol = "module"
	SymbolConstant Symbol = "constant"
	SymbolText     Symbol = "text"
	SymbolList     Symbol = "list"
	SymbolFile     Symbol = "file"
	SymbolNumber   Symbol = "number"
)

// table is the table of kinds, in the order of the vocabulary: the kind of a
// statement stands where the vocabulary has it.
var table []*Kind

// byWord finds a kind by its keyword.
var byWord = map[string]*Kind{}

// Kinds lists the kinds of statements in the order of the vocabulary. The list
// is shared; it must not be changed.
func Kinds() []*Kind { return table }

// KindNamed finds a kind by its keyword, or nil.
func KindNamed(word string) *Kind { return byWord[word] }

// SharesNames tells whether the kind's names are of the one set of the items'.
func (k *Kind) SharesNames() bool { return !k.own && !k.Once && syntax.StatementNamed(k.Word).Names() }

// Items lists the common parts of a kind's items on a board, in the order of the text.
func (k *Kind) Items(b *Board) []*Item {
	var list []*Item
	for _, x := range k.All(b) {
		if i, ok := x.(item); ok {
			list = append(list, i.Base())
		}
	}
	return list
}

// Unlikely lists the common parts of the kind's items that state a length which
// is not plausible, in the order of the text.
func (k *Kind) Unlikely(b *Board) []*Item {
	if k.lists == nil {
		return nil
	}
	b.mark(k.reads)
	return k.lists.unlikely(&b.model.contents)
}

// Find is the first item of the kind with a name, or of the row of that name; nil if there is none.
func (k *Kind) Find(b *Board, name string) *Item {
	for _, x := range k.All(b) {
		if i, ok := x.(item); ok && (i.Base().Name.Text == name || i.Base().Row.Given() && i.Base().Row.Text == name) {
			return i.Base()
		}
	}
	return nil
}

// OfNet lists the kind's items that name a net, in the order of the text.
func (k *Kind) OfNet(b *Board, net string) []*Item {
	var list []*Item
	for _, x := range k.All(b) {
		if k.nets != nil && slices.ContainsFunc(k.nets(x), func(n Name) bool { return n.Given() && n.Text == net }) {
			list = append(list, x.(item).Base())
		}
	}
	return list
}

// kindOf is a statement's kind, nil where it begins with no statement's keyword.
func kindOf(s *syntax.Statement) *Kind {
	if spec := s.Spec(); spec != nil {
		return table[spec.Order]
	}
	return nil
}

// All lists the kind's items on a board, each a pointer to the struct of its kind, in the order
// of the text.
func (k *Kind) All(b *Board) []any {
	if k.lists == nil {
		return nil
	}
	b.mark(k.reads)
	all := k.lists.all(&b.model.contents)
	if k.Once && len(all) > 1 {
		return all[:1]
	}
	return all
}

// contents are the items that a text states, each list in the order of the
// text. Those of a kind that a text states once hold what it states again, too.
type contents struct {
	infos         list[*Info]
	stacks        list[*Stack]
	outlines      list[*shape]
	open          list[*OpenPath]
	cutouts       list[*Cutout]
	holes         list[*Hole]
	platings      list[*Plating]
	gaps          list[*Gap]
	connectors    list[*Connector]
	reliefs       list[*Relief]
	tabs          list[*Tab]
	castellations list[*Castellation]
	planes        list[*Plane]
	features      list[*Feature]
	fences        list[*Fence]
	parts         list[*Part]
	typicals      list[*Typical]
	tolerances    list[*ToleranceSet]
	criteria      list[*Criteria]
	deliveries    list[*Delivery]
	markings      list[*Marking]
	leaves        list[*Leave]
	fabricators   list[*Fabricator]
	acceptances   list[*Acceptance]
	notes         list[*Note]
	lets          list[*Let]
}

// list is a kind's items, and the mark that reading them leaves.
type list[T any] struct {
	items []T
	reads Reads
}

// newContents are contents without items, each list with its mark.
func newContents() contents {
	var c contents
	for _, k := range table {
		if k.lists != nil {
			k.lists.mark(&c, k.reads)
		}
	}
	return c
}

func init() {
	table = []*Kind{
		{Word: "hem", Once: true, read: func(m *meaning, r *syntax.Reading, _ Item) any { m.version(r); return nil }},
		{Word: "use", Symbol: SymbolFile}, // followed before a board is built
		{Word: "let", own: true, Carried: true, Accepts: true, Symbol: SymbolConstant,
			read: making((*meaning).let), enter: func(e *env, x *entry) { e.enterLet(x) }, lists: in(func(c *contents) *list[*Let] { return &c.lets })},
		{Word: "board", own: true, Once: true, Accepts: true, Symbol: SymbolModule,
			read: making((*meaning).info), enter: func(e *env, x *entry) { e.enterInfo(x) }, lists: in(func(c *contents) *list[*Info] { return &c.infos })},
		{Word: "stack", Once: true, Carried: true, Symbol: SymbolList,
			read: making((*meaning).stack), enter: func(e *env, x *entry) { e.enterStack(x) }, lists: in(func(c *contents) *list[*Stack] { return &c.stacks })},
		{Word: "outline", Once: true,
			read: making((*meaning).shape), enter: func(e *env, x *entry) { e.enterShape(x, "") }, lists: outlines{}},
		{Word: "cutout", Accepts: true,
			read: making((*meaning).shape), enter: func(e *env, x *entry) { e.enterShape(x, x.name) }, lists: cutouts{}},
		{Word: "hole", Accepts: true, nets: of((*Hole).nets),
			read: making((*meaning).hole), lists: in(func(c *contents) *list[*Hole] { return &c.holes })},
		{Word: "plating", Accepts: true, nets: of((*Plating).nets),
			read: making((*meaning).plating), lists: in(func(c *contents) *list[*Plating] { return &c.platings })},
		{Word: "gap", Accepts: true, refers: referring((*Gap).refers),
			read: making((*meaning).gap), lists: in(func(c *contents) *list[*Gap] { return &c.gaps })},
		{Word: "connector", Accepts: true, refers: referring((*Connector).refers), nets: of((*Connector).nets),
			read: making((*meaning).connector), lists: in(func(c *contents) *list[*Connector] { return &c.connectors })},
		{Word: "relief", Accepts: true, refers: referring((*Relief).refers),
			read: making((*meaning).relief), lists: in(func(c *contents) *list[*Relief] { return &c.reliefs })},
		{Word: "tab", Accepts: true, refers: referring((*Tab).refers), count: counts((*Tab).count),
			read: making((*meaning).tab), lists: in(func(c *contents) *list[*Tab] { return &c.tabs })},
		{Word: "castellation", Accepts: true, nets: of((*Castellation).nets), count: counts((*Castellation).count),
			read: making((*meaning).castellation), lists: in(func(c *contents) *list[*Castellation] { return &c.castellations })},
		{Word: "plane", Accepts: true, nets: of((*Plane).nets),
			read: making((*meaning).plane), lists: in(func(c *contents) *list[*Plane] { return &c.planes })},
		{Word: "feature", Accepts: true, nets: of((*Feature).nets),
			read: making((*meaning).feature), lists: in(func(c *contents) *list[*Feature] { return &c.features })},
		{Word: "fence", Accepts: true, nets: of((*Fence).nets), count: counts((*Fence).count),
			read: making((*meaning).fence), lists: in(func(c *contents) *list[*Fence] { return &c.fences })},
		{Word: "part", Accepts: true,
			read: making((*meaning).part), lists: in(func(c *contents) *list[*Part] { return &c.parts })},
		{Word: "typical", Carried: true, Accepts: true,
			read: making((*meaning).typical), lists: in(func(c *contents) *list[*Typical] { return &c.typicals })},
		{Word: "tolerance", Carried: true, Accepts: true, Symbol: SymbolList,
			read: making((*meaning).tolerance), lists: in(func(c *contents) *list[*ToleranceSet] { return &c.tolerances })},
		{Word: "criteria", Carried: true, Accepts: true, Symbol: SymbolList,
			read: making((*meaning).criteria), lists: in(func(c *contents) *list[*Criteria] { return &c.criteria })},
		{Word: "delivery", Once: true,
			read: making((*meaning).delivery), lists: in(func(c *contents) *list[*Delivery] { return &c.deliveries })},
		{Word: "marking", Accepts: true,
			read: making((*meaning).marking), lists: in(func(c *contents) *list[*Marking] { return &c.markings })},
		{Word: "leave", Accepts: true,
			read: making((*meaning).leave), lists: in(func(c *contents) *list[*Leave] { return &c.leaves })},
		{Word: "fabricator", own: true, Carried: true, Accepts: true, Symbol: SymbolModule,
			read: making((*meaning).fabricator), lists: in(func(c *contents) *list[*Fabricator] { return &c.fabricators })},
		{Word: "accept",
			read: making((*meaning).acceptance), lists: in(func(c *contents) *list[*Acceptance] { return &c.acceptances })},
		{Word: "note", Symbol: SymbolText,
			read: making((*meaning).note), lists: in(func(c *contents) *list[*Note] { return &c.notes })},
	}
	for i, k := range table {
		k.order, byWord[k.Word] = i, k
		if k.Symbol == "" {
			k.Symbol = SymbolObject
		}
		if k.lists != nil {
			k.reads = 1 << i
		}
		k.follows = k.Word == "typical" || syntax.StatementNamed(k.Word).Clause("like") != nil
	}
	for _, o := range origins {
		for _, word := range o.words {
			byWord[word].referred = true
		}
	}
	mark := func(words ...string) (r Reads) {
		for _, w := range words {
			r |= byWord[w].reads
		}
		return r
	}
	readsShapes = mark("outline", "cutout")
	readsWalls = readsShapes | mark("plating", "gap") | readsOpened
	readsValues = readsShapes | mark("let", "stack", "board")
	readsFinished = readsWalls | mark("tab")
	for _, k := range table {
		if k.follows {
			readsFollowers |= k.reads
		}
	}
}

// making makes the row's function of one that reads items of one type, nil
// where too little of the statement could be read.
func making[T any](f func(*meaning, *syntax.Reading, Item) *T) func(*meaning, *syntax.Reading, Item) any {
	return func(m *meaning, r *syntax.Reading, base Item) any {
		if x := f(m, r, base); x != nil {
			return x
		}
		return nil
	}
}

// of makes the row's function of one on items of one type.
func of[T, R any](f func(*T) []R) func(any) []R {
	return func(x any) []R { return f(x.(*T)) }
}

func referring[T any](f func(*T, *tying)) func(any, *tying) {
	return func(x any, t *tying) { f(x.(*T), t) }
}

func counts[T any](f func(*T) (int, source.Place)) func(any) (int, source.Place) {
	return func(x any) (int, source.Place) { return f(x.(*T)) }
}
