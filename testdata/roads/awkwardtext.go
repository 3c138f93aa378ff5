package roads

import (
	"encoding/binary"
	"strings"
	"unicode/utf16"
)

const xmlDeclaration = `<?xml version="1.0" encoding="UTF-8"?>`

// utf16Of is text in UTF-16, with a byte-order mark or without.
func utf16Of(text string, order binary.AppendByteOrder, mark bool) []byte {
	var b []byte
	if mark {
		b = order.AppendUint16(b, 0xfeff)
	}
	for _, u := range utf16.Encode([]rune(text)) {
		b = order.AppendUint16(b, u)
	}
	return b
}

// awkwardTexts are the pass in other encodings and odd characters.
func awkwardTexts() []AwkwardFile {
	d := AwkwardPass()
	plain := string(d.GPX())
	asUTF16 := strings.Replace(plain, "UTF-8", "UTF-16", 1)
	undeclared := strings.TrimPrefix(plain, xmlDeclaration)
	text := func(name, data string) AwkwardFile { return AwkwardFile{name, []byte(data), d.Road} }
	files := []AwkwardFile{
		{"UTF-16, little-endian, with mark", utf16Of(asUTF16, binary.LittleEndian, true), d.Road},
		{"UTF-16, big-endian, with mark", utf16Of(asUTF16, binary.BigEndian, true), d.Road},
		{"UTF-16, little-endian, without mark", utf16Of(asUTF16, binary.LittleEndian, false), d.Road},
		{"UTF-16, big-endian, without mark", utf16Of(asUTF16, binary.BigEndian, false), d.Road},
		{"UTF-16 without mark and declaration", utf16Of(strings.TrimSpace(undeclared), binary.LittleEndian, false), d.Road},
		{"UTF-16 with mark declared as UTF-8", utf16Of(plain, binary.LittleEndian, true), d.Road},
		refused(AwkwardFile{Name: "UTF-32", Data: utf32Of(plain)}),
		text("byte-order mark", "\ufeff"+plain),
		text("byte-order mark without declaration", "\ufeff"+undeclared),
		text("no declaration", undeclared),
		spoilt("Latin-1 declared as UTF-8", "Awkward pass", "H\xf6he \xfcber dem Pa\xdf"),
		text("Latin-1 without declaration", strings.Replace(undeclared, "Awkward pass", "H\xf6he \xfcber dem Pa\xdf", 1)),
		spoilt("Latin-1 declared right", "UTF-8", "ISO-8859-1", "Awkward pass", "H\xf6he \xfcber dem Pa\xdf"),
		spoilt("CRLF", "\n", "\r\n"),
		spoilt("a huge name", "Awkward pass", strings.Repeat("Awkward pass ", 20_000)),
		refused(spoilt("an endless name", "Awkward pass", strings.Repeat("Awkward pass ", 400_000))),
		spoilt("control sequences in the name", "Awkward pass", "\u009b31mAwkward\u009b0m pass\u009d8;;http://example.invalid/\u009clink\u009d8;;\u009c\u009d0;title\u009c"),
		refused(spoilt("an escape character in the name", "Awkward pass", "\x1b[31mAwkward pass")),
		refused(spoilt("an escape character as reference", "Awkward pass", "&#27;]0;title&#7;Awkward pass")),
	}
	return files
}

func utf32Of(text string) []byte {
	b := binary.LittleEndian.AppendUint32(nil, 0xfeff)
	for _, r := range text {
		b = binary.LittleEndian.AppendUint32(b, uint32(r))
	}
	return b
}
