package desk_test

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"maps"
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// The picture that the README opens with is the demo's front page, and beside
// it a page on a phone, as they are drawn now: with -pictures it is drawn anew,
// for somebody to look at and to put in its place.
func TestPictureOfReadme(t *testing.T) {
	ctx := browse.Start(t)
	s := demoSite(t)
	b := s.planner(t)
	all, err := s.store.Addresses(t.Context(), "maren-and-theo")
	if err != nil {
		t.Fatal(err)
	}
	phone := ""
	for _, a := range all {
		if a.Person == "bea" {
			phone = s.URL + "/p/" + a.Token
		}
	}
	const high = 864
	browse.Lend(t, ctx, b.Jar, s.URL)
	browse.Prefer(t, ctx, "light")
	browse.Do(t, ctx, chromedp.Navigate(s.URL+atWedding))
	desk := browse.Shot(t, ctx, 1120, high)
	browse.Do(t, ctx, chromedp.Navigate(phone))
	drawn := abreast(t, desk, browse.Shot(t, ctx, 375, high))
	browse.Keep(t, "readme.png", drawn)

	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	opens := regexp.MustCompile("(?s)^# banns\n\n[^\n]+\n.{0,900}!\\[[^\\]]+\\]\\(testdata/pictures/desk\\.png\\)")
	if !opens.Match(readme) {
		t.Error("the README does not open with the picture")
	}
	kept, err := os.ReadFile("../../../testdata/pictures/desk.png")
	if err != nil {
		t.Fatal(err)
	}
	if len(kept) > 200<<10 {
		t.Errorf("the picture has %d KB", len(kept)>>10)
	}
	if is, want := size(t, kept), size(t, drawn); is != want {
		t.Errorf("the picture is of %v, not of %v", is, want)
	}
}

// size is that of a picture.
func size(t *testing.T, picture []byte) image.Point {
	t.Helper()
	c, err := png.DecodeConfig(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	return image.Pt(c.Width, c.Height)
}

// abreast are pictures beside each other on a ground that parts them, in no
// more colours than a small file can have.
func abreast(t *testing.T, pictures ...[]byte) []byte {
	t.Helper()
	const gap = 20
	var all []image.Image
	bounds := image.Pt(gap, 0)
	for _, one := range pictures {
		drawn, err := png.Decode(bytes.NewReader(one))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, drawn)
		bounds = image.Pt(bounds.X+drawn.Bounds().Dx()+gap, max(bounds.Y, drawn.Bounds().Dy()+2*gap))
	}
	whole := image.NewRGBA(image.Rectangle{Max: bounds})
	draw.Draw(whole, whole.Bounds(), image.NewUniform(color.Gray{Y: 0xc8}), image.Point{}, draw.Src)
	at := gap
	for _, one := range all {
		draw.Draw(whole, one.Bounds().Add(image.Pt(at, gap)), one, image.Point{}, draw.Src)
		at += one.Bounds().Dx() + gap
	}
	few := image.NewPaletted(whole.Bounds(), frequent(whole))
	draw.Draw(few, few.Bounds(), whole, image.Point{}, draw.Src)
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, few); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// frequent are the colours that a picture has most of.
func frequent(in *image.RGBA) color.Palette {
	count := map[color.RGBA]int{}
	for i := 0; i < len(in.Pix); i += 4 {
		count[color.RGBA{in.Pix[i], in.Pix[i+1], in.Pix[i+2], in.Pix[i+3]}]++
	}
	all := slices.SortedFunc(maps.Keys(count), func(a, b color.RGBA) int {
		return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a.R, b.R), cmp.Compare(a.G, b.G), cmp.Compare(a.B, b.B))
	})
	var palette color.Palette
	for _, c := range all[:min(len(all), 256)] {
		palette = append(palette, c)
	}
	return palette
}
