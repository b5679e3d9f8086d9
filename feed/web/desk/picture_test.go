package desk_test

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"maps"
	"math"
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// The picture that the README opens with is the demo's front page, and beside
// it a page on a phone, as they are drawn now: with -pictures it is drawn anew,
// for somebody to look at and to put in its place. The two are compared by
// their greys alone, and coarsely: the fonts of another machine come to 3.2
// (those that it was drawn with, against DejaVu), and the page without one of
// its parts, or another page, to 4.3 and more.
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
	const tolerance = 4 // of 255 greys, on the mean
	was, now := decoded(t, kept), decoded(t, drawn)
	if was.Bounds() != now.Bounds() {
		t.Errorf("the picture is of %v, not of %v", was.Bounds(), now.Bounds())
	} else if off := apart(greys(was), greys(now)); off > tolerance {
		t.Errorf("the picture is old: it is %.1f greys from how its pages are drawn now, and %d are let pass; draw it anew with -pictures, look at it, and put it in its place", off, tolerance)
	}
}

func decoded(t *testing.T, picture []byte) image.Image {
	t.Helper()
	drawn, err := png.Decode(bytes.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	return drawn
}

const cells = 16 // across a picture, and down it

// greys are the means of a picture's greys, cell by cell.
func greys(in image.Image) (means [cells * cells]float64) {
	var pixels [cells * cells]float64
	size := in.Bounds().Size()
	for y := range size.Y {
		for x := range size.X {
			cell := y*cells/size.Y*cells + x*cells/size.X
			means[cell] += float64(color.GrayModel.Convert(in.At(x, y)).(color.Gray).Y)
			pixels[cell]++
		}
	}
	for cell := range means {
		means[cell] /= pixels[cell]
	}
	return means
}

// apart is how far the cells of two pictures are from each other, on the mean.
func apart(a, b [cells * cells]float64) (off float64) {
	for cell := range a {
		off += math.Abs(a[cell]-b[cell]) / (cells * cells)
	}
	return off
}

// abreast are pictures beside each other on a ground that parts them, in no
// more colours than a small file can have.
func abreast(t *testing.T, pictures ...[]byte) []byte {
	t.Helper()
	const gap = 20
	var all []image.Image
	bounds := image.Pt(gap, 0)
	for _, one := range pictures {
		drawn := decoded(t, one)
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
