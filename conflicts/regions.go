package conflicts

import (
	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/at"
	"github.com/rickar/cal/v2/be"
	"github.com/rickar/cal/v2/cz"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/ee"
	"github.com/rickar/cal/v2/es"
	"github.com/rickar/cal/v2/fi"
	"github.com/rickar/cal/v2/fr"
	"github.com/rickar/cal/v2/hr"
	"github.com/rickar/cal/v2/lt"
	"github.com/rickar/cal/v2/lv"
	"github.com/rickar/cal/v2/mt"
	"github.com/rickar/cal/v2/nl"
	"github.com/rickar/cal/v2/no"
	"github.com/rickar/cal/v2/pl"
	"github.com/rickar/cal/v2/pt"
	"github.com/rickar/cal/v2/se"
	"github.com/rickar/cal/v2/si"
)

// A region is a place with holidays of its own.
type region struct {
	banks   []*cal.Holiday
	federal []*cal.Holiday // nil where it is the same
	caution string         // what the lists leave out
}

// but is r with a caution.
func (r region) but(caution string) region {
	r.caution = caution
	return r
}

const (
	canadianCaution = "Family Day, the August civic holiday and other days that only some provinces keep are not included"
	ukCaution       = "the bank holidays are those of England and Wales; Scotland is GB-SCT, Northern Ireland GB-NIR"
	scottishCaution = "banks in Scotland need not close on its bank holidays, and many keep England's instead"
	townCaution     = "holidays that only some communes keep are not included"
	greekCaution    = "1 May is often moved by decree where it falls on a Sunday or in Holy Week, and is not moved here"
	irishCaution    = "a public holiday on a weekend is not moved, though many offices close on the Monday after"
	latvianCaution  = "the day after a song festival, and working days moved to a Saturday, are not included"
	slovakCaution   = "which public holidays are working days has changed every year since 2024; ask about 6 January, 8 May and 15 September"
	spanishCaution  = "holidays of the communities and towns are not included, nor the Mondays some keep for a Sunday holiday"
)

// regions are the places whose holidays are trusted. A place comes in when
// its list agrees with a second one made by others, or with the law itself
// where the two differ; one that is only likely to be right stays out.
var regions = map[string]region{
	"US": {banks: reserveBanks, federal: federalOffices},
	"CA": {banks: canadianBanks, federal: canadianOffices, caution: canadianCaution},

	"GB":     {banks: englandAndWales, caution: ukCaution},
	"GB-EAW": {banks: englandAndWales},
	"GB-ENG": {banks: englandAndWales},
	"GB-WLS": {banks: englandAndWales},
	"GB-SCT": {banks: scotland, caution: scottishCaution},
	"GB-NIR": {banks: northernIreland},

	"AT": euro(at.Holidays),
	"BE": euro(be.Holidays),
	"CY": euro(cyprus),
	"DE": euro(de.Holidays),
	"EE": euro(ee.Holidays),
	"ES": euro(es.Holidays).but(spanishCaution),
	// With the eves of midsummer and Christmas, on which a term does not end
	// either (laki 150/1930, section 5).
	"FI": euro(fi.Holidays),
	"FR": euro(fr.Holidays),
	"GR": euro(greece).but(greekCaution),
	"HR": euro(hr.Holidays),
	"IE": euro(ireland).but(irishCaution),
	"IT": euro(italy),
	"LT": euro(lt.Holidays),
	"LU": euro(luxembourg),
	"LV": euro(lv.Holidays).but(latvianCaution),
	"MT": euro(mt.Holidays),
	// The days of the Algemene termijnenwet, article 3, so with Good Friday
	// and every 5 May.
	"NL": euro(nl.Holidays),
	"PT": euro(pt.Holidays),
	"SI": euro(si.Holidays),
	"SK": euro(slovakia).but(slovakCaution),

	"DE-BB": euro(de.HolidaysBB),
	"DE-BE": euro(berlin),
	"DE-BW": euro(de.HolidaysBW),
	"DE-BY": euro(de.HolidaysBY).but(townCaution), // Mariä Himmelfahrt, and Augsburg's Friedensfest
	"DE-HB": euro(de.HolidaysHB),
	"DE-HE": euro(de.HolidaysHE),
	"DE-HH": euro(de.HolidaysHH),
	"DE-MV": euro(mecklenburg),
	"DE-NI": euro(de.HolidaysNI),
	"DE-NW": euro(de.HolidaysNW),
	"DE-RP": euro(de.HolidaysRP),
	"DE-SH": euro(de.HolidaysSH),
	"DE-SL": euro(de.HolidaysSL),
	"DE-SN": euro(de.HolidaysSN).but(townCaution), // Fronleichnam
	"DE-ST": euro(de.HolidaysST),
	"DE-TH": euro(de.HolidaysTH).but(townCaution), // Fronleichnam

	"CZ": {banks: cz.Holidays},
	"NO": {banks: no.Holidays},
	"PL": {banks: pl.Holidays},
	// With the eves of midsummer, Christmas and New Year, on which a term does
	// not end either (lag 1930:173, section 2).
	"SE": {banks: se.Holidays},
}
