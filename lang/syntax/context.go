package syntax

// Context is what may stand at a point of a half-typed statement, as the
// vocabulary has it.
type Context struct {
	// Statement is the statement's place in the vocabulary; nil where a new
	// statement may begin.
	Statement *Spec
	// Open are the clauses that a keyword may belong to, the statement first.
	Open []*Spec
	// Arg is the value that is due in the innermost clause; nil where none is.
	Arg *Arg
	// More is a list of names that may go on there as well; nil where none does.
	More *Arg
	// Index is the number of that value among the clause's Args.
	Index int
	// Keyword tells that a clause's keyword may stand here.
	Keyword bool
	// AfterNumber tells that a unit may follow.
	AfterNumber bool
	// InExpression tells that an operator or parenthesis stands before: only a
	// value may follow.
	InExpression bool
	// Partial is the word that is being typed, and From where it starts; in a
	// text in quotes, what stands after the quote.
	Partial string
	From    int
	InText  bool
	// Comment tells that the point lies in a comment: nothing may stand there.
	Comment bool
	// Names are the names that stand before in the same clause.
	Names []string
}

// ContextAt finds what may stand at the end of text, the part of a statement
// before the point.
func ContextAt(text string) Context {
	c := Context{From: len(text)}
	tokens := Lex(text)
	tokens = c.cutPartial(text, tokens)
	if c.Comment {
		return c
	}
	var stack [][]*Spec // what was open where each brace opened
	w := walker{text: text}
	for i, t := range tokens {
		switch t.Kind {
		case Space, Comment:
			continue
		case Newline, Semicolon:
			if w.parens == 0 {
				w.endLine()
			}
			if t.Kind == Semicolon || w.parens == 0 {
				w.ended = false
			}
		case OpenBrace:
			stack = append(stack, w.open)
			w.holders, w.open = append(w.holders, w.open), nil
			w.endLine()
		case CloseBrace:
			if len(stack) > 0 {
				stack = stack[:len(stack)-1]
				w.holders = w.holders[:len(w.holders)-1]
			}
			w.endLine()
			w.ended = true
		default:
			w.token(t, at(tokens, i+1, text))
		}
		w.last = t
	}
	return w.context(c)
}

// cutPartial takes the word that is being typed off the tokens.
func (c *Context) cutPartial(text string, tokens []Token) []Token {
	if len(tokens) == 0 {
		return tokens
	}
	last := tokens[len(tokens)-1]
	switch last.Kind {
	case Comment:
		c.Comment = true
	case Keyword, Name, Function, Unit:
		c.Partial, c.From = text[last.Start:last.End], int(last.Start)
		return tokens[:len(tokens)-1]
	case Bad:
		switch text[last.Start] {
		case '"':
			c.Partial, c.From, c.InText = text[last.Start+1:], int(last.Start)+1, true
			return tokens[:len(tokens)-1]
		case '.': // a dotted name whose next part is due
			if n := len(tokens) - 2; n >= 0 && tokens[n].End == last.Start && (tokens[n].Kind == Name || tokens[n].Kind == Keyword) {
				c.Partial, c.From = text[tokens[n].Start:last.End], int(tokens[n].Start)
				return tokens[:n]
			}
		}
	}
	return tokens
}

// walker follows the tokens of a statement as the reader of the vocabulary does.
type walker struct {
	text    string
	open    []*Spec   // the clauses of the line, the statement first
	holders [][]*Spec // what each brace belongs to
	values  int       // of the innermost clause
	names   []string
	parens  int
	last    Token
	started bool // the line has begun
	ended   bool // a brace was closed: nothing more may stand on the line
	broken  bool
	// assigned tells that an equals sign came: an expression is due.
	assigned bool
}

func (w *walker) endLine() {
	w.values, w.parens, w.started, w.names, w.assigned = 0, 0, false, nil, false
	w.open = nil // a statement ends with its line
	if len(w.holders) > 0 {
		w.open = w.holders[len(w.holders)-1]
	}
}

func (w *walker) token(t Token, next token) {
	word := w.text[t.Start:t.End]
	if t.Kind == Keyword && w.started {
		d := due{open: w.open, values: w.values, parens: w.parens, last: w.last.Kind}
		if d.named(word, next) {
			t.Kind = Name
		}
	}
	switch t.Kind {
	case OpenParen:
		w.parens++
	case Equals:
		w.assigned = true
	case CloseParen:
		w.parens = max(w.parens-1, 0)
		if w.parens == 0 {
			w.values++
		}
	case Keyword:
		w.keyword(word)
	case Name, Text, Number:
		// A value after an operator goes on with the one before it.
		if w.parens == 0 && !operator(w.last.Kind) {
			w.values++
		}
		if t.Kind != Number {
			w.names = append(w.names, Unquote(word))
		}
	}
	w.started = true
}

func operator(k Kind) bool { return k == Plus || k == Minus || k == Star || k == Slash }

func (w *walker) keyword(word string) {
	w.parens = 0
	if len(w.open) == 0 {
		if s := statements[word]; s != nil {
			w.open = []*Spec{s}
		} else {
			w.broken = true
		}
		w.values, w.names = 0, nil
		return
	}
	i, clause := holderOf(w.open, word)
	if clause == nil {
		w.broken = true
		return
	}
	w.open = append(w.open[:i+1:i+1], clause)
	w.values, w.names = 0, nil
}

func (w *walker) context(c Context) Context {
	if w.broken || w.ended {
		return c
	}
	c.Open = w.open
	if len(w.open) == 0 {
		if w.started {
			return c // a line that begins with no keyword
		}
		c.Keyword = true
		return c
	}
	c.Statement = w.open[0]
	spec := w.open[len(w.open)-1]
	inBody := len(w.holders) > 0 && !w.started
	c.AfterNumber = w.last.Kind == Number
	c.InExpression = operator(w.last.Kind) || w.parens > 0 || w.last.Kind == Equals
	if inBody {
		c.Keyword = true
		return c
	}
	c.Names = w.names
	values := w.values
	if n := w.listed(spec); n > 0 {
		if values == n && !operator(w.last.Kind) {
			c.More = &spec.Args[0]
		}
		values -= n - 1
	}
	c.Index = values
	if c.InExpression && values > 0 && w.parens == 0 {
		c.Index-- // the value goes on
	}
	if c.AfterNumber && values > 0 && w.parens == 0 {
		c.Index = values - 1 // a unit is the number's
	}
	if n := len(spec.Args); n > 0 {
		switch {
		case c.Index < n:
			c.Arg = &spec.Args[c.Index]
		case spec.Args[n-1].Many:
			c.Arg = &spec.Args[n-1]
		}
	}
	if w.assigned {
		c.Arg = &Arg{Name: "EXPRESSION", Kind: VExpr}
	}
	due := values < len(spec.Args) && !spec.Args[values].Optional
	c.Keyword = !c.InExpression && !due && !c.InText && w.last.Kind != Comma
	return c
}

// listed is how many values so far are faces of a list that other values follow.
func (w *walker) listed(spec *Spec) (n int) {
	if len(spec.Args) < 2 || !spec.Args[0].Many || spec.Args[0].Kind != VFace {
		return 0
	}
	for n < len(w.names) && (w.names[n] == Top || w.names[n] == Bottom) {
		n++
	}
	return n
}
