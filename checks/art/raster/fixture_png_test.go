package raster

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"testing"
)

// pngWith puts chunks behind the header of a PNG.
func pngWith(b []byte, chunks ...[]byte) []byte {
	const header = 8 + 25
	out := append([]byte(nil), b[:header]...)
	for _, c := range chunks {
		out = append(out, c...)
	}
	return append(out, b[header:]...)
}

func chunk(name string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, name...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

func numbers(v ...uint32) (b []byte) {
	for _, n := range v {
		b = binary.BigEndian.AppendUint32(b, n)
	}
	return b
}

func phys(x, y uint32, unit byte) []byte { return chunk("pHYs", append(numbers(x, y), unit)) }

func iccp(t testing.TB, profile []byte) []byte {
	t.Helper()
	return chunk("iCCP", append([]byte("press\x00\x00"), deflated(t, profile)...))
}

func deflated(t testing.TB, data []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	if _, err := z.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
