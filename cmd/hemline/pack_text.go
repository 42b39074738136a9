package main

import (
	"path"

	"hemline/lang"
	"hemline/lang/emit/bundle"
)

// sourcesOf are a board's text and those that it uses, the board's first, so
// placed that each is found by the path that names it.
func sourcesOf(a *lang.Analysis) []bundle.File {
	paths := a.Files()
	text := map[string]string{}
	for _, d := range a.Documents() {
		text[d.File().Path()] = d.File().Text()
	}
	places, found := bundle.Places(paths)
	files := make([]bundle.File, len(paths))
	for i, p := range paths {
		about := "a text that the board uses"
		switch {
		case !found[i] && path.IsAbs(p):
			about = "a text that the board uses by its whole path, which does not lead here: " + p
		case !found[i]:
			about = "a text that the board uses by a path which does not lead here: " + p
		case i == 0:
			about = "the board's own text"
		}
		files[i] = bundle.File{Name: places[i], Role: "text", About: about, Data: []byte(text[p])}
	}
	return files
}
