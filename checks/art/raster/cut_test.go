package raster

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
)

// samples are small files of every format, without anything behind the
// picture.
func samples(t testing.TB) map[string][]byte {
	t.Helper()
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, picture(20, 15), nil); err != nil {
		t.Fatal(err)
	}
	strips := grayPage().with(map[uint16]any{tagRowsPerStrip: uint16(1), tagOrientation: uint16(5), tagICC: []byte("a profile")})
	strips.data = [][]byte{{1, 2, 3, 4}, {5, 6, 7, 8}, {9, 10, 11, 12}}
	packed := grayPage().with(map[uint16]any{tagCompression: uint16(packDeflate), tagPredictor: uint16(2), tagXResolution: ratio{300, 1}})
	packed.data = [][]byte{deflated(t, make([]byte, 12))}
	tiled := plainPage(4, 3, photoBlackIsZero, make([]byte, 12)).with(map[uint16]any{tagTileWidth: uint16(16), tagTileHeight: uint16(16), tagCompression: uint16(packLZW)})
	tiled.at, tiled.data = tagTileOffsets, [][]byte{lzwLiterals(make([]byte, 256))}
	inked := plainPage(8, 8, photoCMYK, make([]byte, 256)).with(map[uint16]any{tagCompression: uint16(packJPEG)})
	inked.data = [][]byte{flatJPEG{w: 8, h: 8, ids: "CMYK", values: []byte{9, 99, 199, 255}}.encode()}
	vp8 := "\x30\x01\x00\x9d\x01\x2a\x08\x00\x08\x00\x02\x00\x34\x25\xa4\x00\x03\x70\x00\xfe\xfb\xfd\x50\x00"
	exif := exifOf(map[uint16]any{tagXResolution: ratio{300, 1}, tagOrientation: uint16(6), tagColorSpace: uint16(1)})
	return map[string][]byte{
		"photo.jpg":   photo.Bytes(),
		"gray.jpg":    flatJPEG{w: 9, h: 8, ids: "\x01", values: []byte{9}, apps: [][]byte{jfif(1, 300, 300), app(1, "Exif\x00\x00"+string(exif))}}.encode(),
		"cmyk.jpg":    flatJPEG{w: 9, h: 8, ids: "\x01\x02\x03\x04", values: []byte{9, 99, 199, 255}, apps: [][]byte{adobe(2), iccChunk(1, 1, "profile")}}.encode(),
		"rgba.png":    pngWith(pngBytes(t, glass(9, 7)), phys(11811, 11811, 1), iccp(t, []byte("profile")), chunk("sRGB", []byte{0})),
		"gray.tif":    littleTIFF(strips),
		"packed.tif":  bigEndianTIFF(packed),
		"tiled.tif":   bigTIFF(tiled),
		"cmyk.tif":    littleTIFF(inked, plainPage(1, 1, photoRGB, []byte{1, 2, 3, 4}).with(map[uint16]any{tagExtraSamples: uint16(1)})),
		"plain.webp":  riff("VP8X", vp8x(1<<3), "VP8L", string(flatVP8L(3, 2, 10, 20, 30, 99)), "EXIF", string(exif)),
		"lossy.webp":  riff("VP8 ", vp8),
		"frames.gif":  gifOf(t, paletted(image.Rect(1, 1, 4, 3), color.White), paletted(image.Rect(0, 0, 4, 3), color.Black)),
		"colours.bmp": bmpOf(bmpV5, 8, map[int]uint32{32: 1}, []byte{1, 2, 3, 0}, make([]byte, 8)),
	}
}

// TestCutOff cuts files at every length. None may pass for whole.
func TestCutOff(t *testing.T) {
	all := samples(t)
	all["progressive.jpg"] = goTestdata(t, "video-001.progressive.jpeg")
	for name, b := range all {
		t.Run(name, func(t *testing.T) {
			open(t, b)
			for n := 0; n < len(b); n += 1 + len(b)/2000 {
				f, err := Open(b[:n], DefaultLimits())
				if err == nil {
					_, err = f.Decode(0)
				}
				if !errors.Is(err, ErrCutOff) && !errors.Is(err, ErrDamaged) {
					t.Errorf("cut to %d of %d bytes: %v", n, len(b), err)
				}
			}
		})
	}
}

// TestCutOffAgain cuts files as other programs write them.
func TestCutOffAgain(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "plain.png", pngBytes(t, picture(61, 43)))
	for _, args := range [][]string{
		{"-compress", "lzw", "lzw.tif"}, {"-compress", "zip", "-interlace", "plane", "planes.tif"}, {"-compress", "jpeg", "jpeg.tif"},
		{"-colorspace", "cmyk", "-interlace", "jpeg", "cmyk.jpg"}, {"-quality", "80", "lossy.webp"}, {"rgb.bmp"}, {"out.gif"}, {"-interlace", "png", "out.png"},
	} {
		name := args[len(args)-1]
		t.Run(name, func(t *testing.T) {
			run(t, dir, "convert", append([]string{"plain.png"}, args...)...)
			b := read(t, dir, name)
			for n := range 200 {
				n = n * len(b) / 200
				f, err := Open(b[:n], DefaultLimits())
				if err == nil {
					_, err = f.Decode(0)
				}
				if !errors.Is(err, ErrCutOff) && !errors.Is(err, ErrDamaged) {
					t.Errorf("cut to %d of %d bytes: %v", n, len(b), err)
				}
			}
		})
	}
}

// TestBytesBehind accepts what writers and mail programs leave behind a whole
// picture.
func TestBytesBehind(t *testing.T) {
	for name, b := range samples(t) {
		t.Run(name, func(t *testing.T) {
			open(t, append(bytes.Clone(b), "\x00\x00\r\nmore"...))
		})
	}
}
