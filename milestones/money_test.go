package milestones

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func TestMoneyText(t *testing.T) {
	rows := []struct {
		currency     Currency
		text         string
		want         Money
		plain, words string
	}{
		{"USD", "2500", 2500_00, "2500.00", "$2,500.00"},
		{"USD", "2,500.5", 2500_50, "2500.50", "$2,500.50"},
		{"USD", "$2,500.00", 2500_00, "2500.00", "$2,500.00"},
		{"USD", "USD 0.07", 7, "0.07", "$0.07"},
		{"USD", " 1,234,567.89 ", 1_234_567_89, "1234567.89", "$1,234,567.89"},
		{"CAD", "5,180", 5180_00, "5180.00", "CAD 5,180.00"},
		{"EUR", "€999.99", 999_99, "999.99", "€999.99"},
		{"GBP", "£1", 1_00, "1.00", "£1.00"},
		{"JPY", "150,000", 150_000, "150000", "JPY 150,000"},
		{"KWD", "1.5", 1_500, "1.500", "KWD 1.500"},
		{"BHD", "12,345.678", 12_345_678, "12345.678", "BHD 12,345.678"},
	}
	for _, row := range rows {
		got, err := row.currency.Parse(row.text)
		if err != nil || got != row.want {
			t.Errorf("%s.Parse(%q) = %d, %v, want %d", row.currency, row.text, got, err, row.want)
		}
		if plain := row.currency.Plain(row.want); plain != row.plain {
			t.Errorf("%s.Plain(%d) = %q, want %q", row.currency, row.want, plain, row.plain)
		}
		if words := row.currency.Words(row.want); words != row.words {
			t.Errorf("%s.Words(%d) = %q, want %q", row.currency, row.want, words, row.words)
		}
	}
}

func TestMoneyRefused(t *testing.T) {
	rows := []struct {
		currency   Currency
		text, says string
	}{
		{"USD", "", `"" is no sum; write it as 2500 or 2,500.00`},
		{"USD", "-5", `"-5" is no sum; write it as 2500 or 2,500.00`},
		{"USD", "2.500,00", `"2.500,00" is no sum; write it as 2500 or 2,500.00`},
		{"USD", "25,00", `"25,00" is no sum; write it as 2500 or 2,500.00`},
		{"USD", "1,0000", `"1,0000" is no sum; write it as 2500 or 2,500.00`},
		{"USD", "1e6", `"1e6" is no sum; write it as 2500 or 2,500.00`},
		{"USD", "£5", `"£5" is no sum; write it as 2500 or 2,500.00`},
		{"USD", "5.", `"5." is no sum; write it as 2500 or 2,500.00`},
		{"USD", "1.234", `"1.234" has more decimals than USD has (2)`},
		{"JPY", "100.0", `"100.0" has more decimals than JPY has (0)`},
		{"KWD", "1.2345", `"1.2345" has more decimals than KWD has (3)`},
		{"USD", "99999999999", `"99999999999" is more than can be reckoned with`},
		{"USD", "99999999999999999999", `"99999999999999999999" is more than can be reckoned with`},
	}
	for _, row := range rows {
		if m, err := row.currency.Parse(row.text); err == nil || err.Error() != row.says {
			t.Errorf("%s.Parse(%q) = %d, %v, want %s", row.currency, row.text, m, err, row.says)
		}
	}
}

func TestPercentOf(t *testing.T) {
	rows := []struct {
		share  string
		of     Money
		want   Money
		source string
	}{
		{"25%", 15_208_03, 3_802_01, "half up: 3802.0075"},
		{"50%", 1, 1, "half up: half a cent"},
		{"50%", 3, 2, "half up: a cent and a half"},
		{"49.9999%", 1, 0, "under half a cent"},
		{"33.33%", 100_00, 33_33, "exact"},
		{"22%", 11_760_00, 2_587_20, "exact"},
		{"0%", 100_00, 0, "exact"},
		{"100%", 99, 99, "exact"},
		{"12.5%", 4, 1, "half up in whole yen"},
	}
	for _, row := range rows {
		share, err := ParsePercent(row.share)
		if err != nil {
			t.Fatal(err)
		}
		if got := share.Of(row.of); got != row.want {
			t.Errorf("%s of %d = %d, want %d (%s)", row.share, row.of, got, row.want, row.source)
		}
	}
}

// Checked against big numbers, up to the price of the dearest head for the
// most heads that a plan can name.
func TestPercentOfBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Int64Range(0, int64(most)*100_000).Draw(t, "sum")
		p := rapid.Int64Range(0, int64(Whole)).Draw(t, "share")
		want := new(big.Int).Mul(big.NewInt(m), big.NewInt(p))
		want.Div(want.Add(want, big.NewInt(int64(Whole)/2)), big.NewInt(int64(Whole)))
		if got := Percent(p).Of(Money(m)); int64(got) != want.Int64() {
			t.Fatalf("%s of %d = %d, want %s", Percent(p), m, got, want)
		}
	})
}

func TestPercentText(t *testing.T) {
	rows := []struct{ text, want string }{
		{"25%", "25%"},
		{"22 %", "22%"},
		{"33.33%", "33.33%"},
		{"0.0001%", "0.0001%"},
		{"10.50%", "10.5%"},
		{"100%", "100%"},
		{"0%", "0%"},
		{"100.0001%", ""},
		{"101%", ""},
		{"1,000%", ""},
		{"33.33333%", ""},
		{"25", ""},
		{"-5%", ""},
		{"%", ""},
	}
	for _, row := range rows {
		got, err := ParsePercent(row.text)
		if (err == nil) != (row.want != "") || err == nil && got.String() != row.want {
			t.Errorf("ParsePercent(%q) = %s, %v, want %q", row.text, got, err, row.want)
		}
	}
}

func TestPriceByTheHead(t *testing.T) {
	each := Money(98_00)
	full := Price{Each: &each, Count: 120, AtLeast: 90, Service: 220_000, Tax: 60_000, TaxOn: TaxOnAll}
	with := func(change func(*Price)) Price {
		p := full
		change(&p)
		return p
	}
	rows := []struct {
		why   string
		price Price
		want  Amount
	}{
		{"11,760 + 22% 2,587.20 + 6% of both 860.83", full, Exactly(15_208_03)},
		{"tax on the food alone, 705.60", with(func(p *Price) { p.TaxOn = TaxOnFood }), Exactly(15_052_80)},
		{"fewer than the minimum are charged as the minimum", with(func(p *Price) { p.Count = 70 }), Exactly(11_406_02)},
		{"no count yet, but a minimum and a most", with(func(p *Price) { p.Count, p.AtMost = 0, 120 }), Between(11_406_02, 15_208_03)},
		{"no count, and a most alone", with(func(p *Price) { p.Count, p.AtLeast, p.AtMost = 0, 0, 120 }), Between(0, 15_208_03)},
		{"no count and nothing to bound it", with(func(p *Price) { p.Count, p.AtLeast = 0, 0 }), Amount{}},
		{"no price at all", Price{}, Amount{}},
		{"a sum", costs(500), Exactly(500)},
	}
	for _, row := range rows {
		if got := row.price.Amount(); got != row.want {
			t.Errorf("%s: %v, want %v", row.why, got, row.want)
		}
	}
	if got := with(func(p *Price) { p.Count = 0 }).Amount(); got.Low != 11_406_02 || !got.Known || !got.Open {
		t.Errorf("no count and no most: %v, want a low alone", got)
	}
}

func TestRange(t *testing.T) {
	rows := []struct {
		a    Amount
		want string
	}{
		{Exactly(400_00), "$400.00"},
		{Between(400_00, 800_00), "$400.00 to $800.00"},
		{Amount{}, "a sum not known yet"},
		{Exactly(1).Plus(Amount{}), "a sum not known yet"},
		{Exactly(-5), "-$0.05"},
		{AtLeast(400_00), "at least $400.00"},
		{AtLeast(400_00).Plus(Exactly(50_00)), "at least $450.00"},
		{Exactly(500_00).Or(Between(400_00, 600_00)), "$400.00 to $600.00"},
		{Exactly(500_00).Over(Exactly(600_00)), "$0.00"},
		{Between(400_00, 800_00).Over(Between(100_00, 200_00)), "$300.00 to $600.00"},
	}
	for _, row := range rows {
		if got := Currency("USD").Range(row.a); got != row.want {
			t.Errorf("%v reads %q, want %q", row.a, got, row.want)
		}
	}
}

func TestParseCurrency(t *testing.T) {
	rows := []struct {
		text   string
		want   Currency
		digits int
	}{
		{"USD", "USD", 2}, {"eur", "EUR", 2}, {"JPY", "JPY", 0}, {"KWD", "KWD", 3},
	}
	for _, row := range rows {
		got, err := ParseCurrency(row.text)
		if err != nil || got != row.want || got.Digits() != row.digits {
			t.Errorf("ParseCurrency(%q) = %s with %d decimals, %v", row.text, got, got.Digits(), err)
		}
	}
	if c, err := ParseCurrency("dollars"); err == nil {
		t.Errorf("dollars is taken for %s", c)
	}
}
