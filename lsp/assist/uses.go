package assist

import (
	"path"
	"path/filepath"
	"strings"

	"hemline/lang"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Use is a `use` of a text.
type Use struct {
	Span source.Span // of the path, with its quotes
	Path string      // of the file that it names, as Analyze asks for it
}

// Uses lists the `use` statements of the root text that name a file.
func Uses(a *lang.Analysis) (list []Use) {
	for _, s := range a.Document().Using() {
		if to, ok := usedPath(a, s); ok {
			if span, ok := a.Document().Locate(syntax.Read(s).Values[0].Place()); ok {
				list = append(list, Use{span, to})
			}
		}
	}
	return list
}

// UseAt is the `use` whose path stands at an offset of the root text.
func UseAt(a *lang.Analysis, offset int) (Use, bool) {
	for _, u := range Uses(a) {
		if u.Span.Contains(offset) {
			return u, true
		}
	}
	return Use{}, false
}

// Moved lists the edits that keep every `use` of a text meaning the file that it means,
// where files are renamed: the text itself perhaps, and what it uses. renamed gives the path
// that a path has afterwards.
func Moved(a *lang.Analysis, renamed func(path string) string) (edits []source.Edit) {
	own := a.Root().Path()
	after := renamed(own)
	for _, u := range Uses(a) {
		to := renamed(u.Path)
		if after == own && to == u.Path {
			continue
		}
		if said := syntax.Unquote(a.Root().Slice(u.Span)); filepath.IsAbs(filepath.FromSlash(said)) {
			if to != u.Path {
				edits = append(edits, source.Edit{Span: u.Span, Text: quoted(to)})
			}
		} else if lang.Resolve(after, said) != to {
			edits = append(edits, source.Edit{Span: u.Span, Text: quoted(relative(path.Dir(filepath.ToSlash(after)), filepath.ToSlash(to)))})
		}
	}
	return edits
}

// relative is how a file is named from a folder, with slashes; as a whole where there is no way.
func relative(folder, file string) string {
	way, err := filepath.Rel(filepath.FromSlash(folder), filepath.FromSlash(file))
	if err != nil {
		return file
	}
	return filepath.ToSlash(way)
}

// quoted is a path as a text in quotes.
func quoted(path string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(path) + `"`
}

// IsLibrary tells whether a text says only what others use: no board, and no outline.
func IsLibrary(a *lang.Analysis) bool {
	return len(a.Document().Statements()) > 0 && a.Board().Info() == nil && a.Board().OutlineItem() == nil
}
