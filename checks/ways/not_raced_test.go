//go:build !race

package ways_test

const raced = false
