package bundle

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"unicode"
)

// Places says where texts that name each other by relative paths lie in a
// folder so that the same paths lead from one to the other. paths are as read,
// with slashes, relative to the folder of the first, the root.
//
// Where one lies above the root's folder, the root lies as many folders deeper;
// what those are called outside is not said, they are named folder. One that is
// named by its whole path, or whose name could be read as a path elsewhere,
// lies in a folder of its own and is not found by the path that names it: found
// is false for it.
func Places(paths []string) (places []string, found []bool) {
	up := 0
	for _, p := range paths {
		if plain(p) {
			up = max(up, climbs(p))
		}
	}
	holder := free("folder", paths)
	aside := free("elsewhere", paths)
	taken := map[string]bool{}
	for _, p := range paths {
		if plain(p) {
			place := path.Join(strings.Repeat(holder+"/", up), p)
			if small := strings.ToLower(place); !taken[small] {
				taken[small] = true
				places, found = append(places, place), append(found, true)
				continue
			}
		}
		place := ""
		for n := 1; place == "" || taken[strings.ToLower(place)]; n++ {
			place = path.Join(aside, fmt.Sprint(n), harmless(p))
		}
		taken[strings.ToLower(place)] = true
		places, found = append(places, place), append(found, false)
	}
	return places, found
}

// climbs is how many folders up a path leads.
func climbs(p string) (n int) {
	for rest := path.Clean(p); ; n++ {
		after, ok := strings.CutPrefix(rest, "../")
		if !ok {
			return n
		}
		rest = after
	}
}

// plain tells whether a path is relative and made of names that no system reads
// as anything but names, and that are seen whole.
func plain(p string) bool {
	return p != "" && !path.IsAbs(p) && path.Base(path.Clean(p)) != ".." && !strings.ContainsFunc(p, func(r rune) bool {
		return r == '\\' || r == ':' || unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) || r == unicode.ReplacementChar
	})
}

// harmless is the last name of a path, of letters, digits and few signs.
func harmless(p string) string {
	name := p[strings.LastIndexAny(p, `/\`)+1:]
	name = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_.", r) {
			return r
		}
		return '_'
	}, name)
	if strings.Trim(name, ".") == "" {
		return "text"
	}
	return name
}

// free is a name that no part of the paths has.
func free(name string, paths []string) string {
	for n := 1; ; n++ {
		try := name
		if n > 1 {
			try = fmt.Sprintf("%s_%d", name, n)
		}
		if !slices.ContainsFunc(paths, func(p string) bool {
			return slices.ContainsFunc(strings.Split(p, "/"), func(part string) bool { return strings.EqualFold(part, try) })
		}) {
			return try
		}
	}
}
