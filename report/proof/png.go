package proof

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image/png"
	"io"
	"math"
)

// signed is the text chunk by which a proof is known for ours (W3C PNG, 11.3.3.2).
const signed = "Software\x00stoneproof"

// headLength is the PNG signature with the IHDR chunk (5.2, 11.2.1).
const headLength = 8 + 25

// WritePNG writes the proof as a PNG that prints in true size.
func (p Proof) WritePNG(w io.Writer) error {
	var b bytes.Buffer
	if err := png.Encode(&b, p.Image); err != nil {
		return err
	}
	perMetre := binary.BigEndian.AppendUint32(nil, uint32(math.Round(p.PPI/0.0254)))
	density := string(perMetre) + string(perMetre) + "\x01" // 11.3.4.3: unit 1 is the metre
	for _, part := range [][]byte{b.Next(headLength), chunk("pHYs", density), chunk("tEXt", signed), b.Bytes()} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// chunk is a PNG chunk with its check sum (5.3).
func chunk(kind, data string) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(b, kind+data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE([]byte(kind+data)))
}

// Ours reports whether what r holds is a proof that WritePNG wrote.
func Ours(r io.Reader) bool {
	density := chunk("pHYs", "123456789")
	head := make([]byte, headLength+len(density)+len(chunk("tEXt", signed)))
	if _, err := io.ReadFull(r, head); err != nil {
		return false
	}
	return bytes.Equal(head[headLength+len(density):], chunk("tEXt", signed))
}
