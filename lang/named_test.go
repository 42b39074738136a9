package lang_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/source"
)

func TestFilesAreNamedAsTheTextWouldNameThem(t *testing.T) {
	files := map[string]string{}
	read := func(path string) (*source.File, error) { return source.New(path, files[path]), nil }
	for root, list := range map[string]map[string]string{
		"/home/user/boards/broken/a.hem": {
			"/home/user/boards/broken/shop.hem":       "shop.hem",
			"/home/user/boards/broken/shops/shop.hem": "shops/shop.hem",
			"/home/user/boards/shops/shop.hem":        "../shops/shop.hem",
			"/home/user/shop.hem":                     "../../shop.hem",
			"/srv/shop.hem":                           "/srv/shop.hem",
		},
		"boards/a.hem":    {"shops/shop.hem": "../shops/shop.hem", "shop.hem": "../shop.hem", "../lib/shop.hem": "../../lib/shop.hem"},
		"../boards/a.hem": {"../shops/shop.hem": "../shops/shop.hem", "../boards/b.hem": "b.hem"},
		"a.hem":           {"b.hem": "b.hem", "../shop.hem": "../shop.hem"},
	} {
		for path, want := range list {
			a := lang.Analyze(source.New(root, `use "`+want+`"`), read, nil)
			assert.Contains(t, a.Files(), path, root)
			assert.Equal(t, want, a.NameOf(path), root)
			assert.Equal(t, "limit x, "+want+":3, not /x"+path+", 1/2", a.Named("limit x, "+path+":3, not /x"+path+", 1/2"), root)
		}
	}
}

// Of a root with a whole path, files are named that took no part.
func TestFilesThatTookNoPartAreNamedInMessages(t *testing.T) {
	a := lang.Analyze(source.New("/home/user/boards/broken/a.hem", ""), nil, nil)
	for message, want := range map[string]string{
		"limit x, /home/user/boards/broken/shop.hem:3":        "limit x, shop.hem:3",
		"limit x, /home/user/boards/shops/shop.hem:3":         "limit x, ../shops/shop.hem:3",
		"limit x, /srv/home/user/shop.hem:3":                  "limit x, /srv/home/user/shop.hem:3",
		"1 mm / 2 mm, /home/user/boards/broken/b.hem, no /x/": "1 mm / 2 mm, b.hem, no /x/",
	} {
		assert.Equal(t, want, a.Named(message))
	}
	assert.Equal(t, "/a/b", lang.Analyze(source.New("/c.hem", ""), nil, nil).Named("/a/b"), "the root is in every path")
	assert.Equal(t, "/a/b", lang.Analyze(source.New("untitled:c", ""), nil, nil).Named("/a/b"))
	assert.Equal(t, "/a/b", lang.NamedFrom("", "/a/b"))
}
