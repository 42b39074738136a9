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
