package plot

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
)

// The parts of a TrueType font that are read here, by the OpenType
// specification (from memory): a directory of 16 bytes a table behind a header
// of 12, and the table head with a sum over the whole font and two times.
const (
	fontHeader   = 12
	fontRecord   = 16
	headAdjust   = 8  // of head: what makes the whole font's sum come out
	headModified = 28 // of head: 8 bytes
	fontSum      = 0xB1B0AFBA
)

// compressed is how the library begins a compressed stream that is a font's or
// a page's.
var compressed = regexp.MustCompile(`<</Filter/FlateDecode/Length (\d+)>>stream\r?\n`)

// untimed takes the time of writing out of the fonts that a PDF file embeds and
// sets their sums right again: the library puts it there, and the same board
// would give another file with every second. The table of the file's objects
// follows what has become longer or shorter.
func untimed(data []byte) ([]byte, error) {
	table := bytes.LastIndex(data, []byte("\nxref\n"))
	if table < 0 {
		return nil, errTail
	}
	var out bytes.Buffer
	type moved struct{ from, by int }
	var moves []moved
	at := 0
	for _, m := range compressed.FindAllSubmatchIndex(data[:table], -1) {
		long, err := strconv.Atoi(string(data[m[2]:m[3]]))
		if err != nil || m[1]+long > table {
			return nil, errTail
		}
		font, ok := inflated(data[m[1] : m[1]+long])
		if !ok || !bytes.HasPrefix(font, []byte{0, 1, 0, 0}) {
			continue
		}
		untimedFont(font)
		packed, err := deflated(font)
		if err != nil {
			return nil, err
		}
		out.Write(data[at:m[0]])
		fmt.Fprintf(&out, "<</Filter/FlateDecode/Length %d>>stream\n", len(packed))
		out.Write(packed)
		at = m[1] + long
		by := out.Len() - at
		moves = append(moves, moved{m[0], by})
	}
	shift := func(offset int) int {
		by := 0
		for _, m := range moves {
			if m.from < offset {
				by = m.by
			}
		}
		return offset + by
	}
	out.Write(data[at:table])
	rest := objectPlace.ReplaceAllFunc(data[table:], func(line []byte) []byte {
		offset, _ := strconv.Atoi(string(line[:10]))
		return fmt.Appendf(nil, "%010d%s", shift(offset), line[10:])
	})
	rest = tablePlace.ReplaceAll(rest, fmt.Appendf(nil, "startxref\n%d\n", shift(table)+1))
	out.Write(rest)
	return out.Bytes(), nil
}

// objectPlace is an object's line in the file's table, tablePlace where the table is said to be.
var (
	objectPlace = regexp.MustCompile(`\d{10} \d{5} n`)
	tablePlace  = regexp.MustCompile(`startxref\n\d+\n`)
	errTail     = errors.New("the PDF library writes its files in another way than is known here")
)

func inflated(packed []byte) ([]byte, bool) {
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, false
	}
	data, err := io.ReadAll(r)
	return data, err == nil
}

func deflated(data []byte) ([]byte, error) {
	var out bytes.Buffer
	w := zlib.NewWriter(&out)
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err := w.Close()
	return out.Bytes(), err
}

func untimedFont(font []byte) {
	if len(font) < fontHeader {
		return
	}
	tables, end := int(binary.BigEndian.Uint16(font[4:])), 0
	var head, record []byte
	for i := range tables {
		r := fontHeader + i*fontRecord
		if r+fontRecord > len(font) {
			return
		}
		from, long := int(binary.BigEndian.Uint32(font[r+8:])), int(binary.BigEndian.Uint32(font[r+12:]))
		if from < 0 || long < 0 || from+long > len(font) {
			return
		}
		end = max(end, from+(long+3)/4*4)
		if string(font[r:r+4]) == "head" {
			head, record = font[from:from+long], font[r:r+fontRecord]
		}
	}
	if len(head) < headModified+8 || end > len(font) {
		return
	}
	clear(head[headModified : headModified+8])
	clear(head[headAdjust : headAdjust+4])
	binary.BigEndian.PutUint32(record[4:], sumOf(head))
	binary.BigEndian.PutUint32(head[headAdjust:], fontSum-sumOf(font[:end]))
}

// sumOf adds the words of a table, the last one filled up with zeros.
func sumOf(table []byte) (sum uint32) {
	for len(table) >= 4 {
		sum += binary.BigEndian.Uint32(table)
		table = table[4:]
	}
	var rest [4]byte
	copy(rest[:], table)
	return sum + binary.BigEndian.Uint32(rest[:])
}
