package conflicts

import (
	"regexp"
	"slices"
	"strings"
)

// Country is a country whose holidays are known.
type Country struct {
	Code string // ISO 3166-1 alpha-2
	Name string // in English, as ISO 3166-1 has it or shorter
}

// Covered are the countries whose holidays are known, by name.
func Covered() []Country {
	var all []Country
	for code, name := range countryNames {
		all = append(all, Country{code, name})
	}
	slices.SortFunc(all, func(a, b Country) int { return strings.Compare(a.Name, b.Name) })
	return all
}

var countryNames = map[string]string{
	"AT": "Austria", "BE": "Belgium", "CA": "Canada", "CY": "Cyprus", "CZ": "Czechia", "DE": "Germany", "EE": "Estonia",
	"ES": "Spain", "FI": "Finland", "FR": "France", "GB": "United Kingdom", "GR": "Greece", "HR": "Croatia", "IE": "Ireland",
	"IT": "Italy", "LT": "Lithuania", "LU": "Luxembourg", "LV": "Latvia", "MT": "Malta", "NL": "Netherlands", "NO": "Norway",
	"PL": "Poland", "PT": "Portugal", "SE": "Sweden", "SI": "Slovenia", "SK": "Slovakia", "US": "United States",
}

// RegionCalled is the ISO 3166 code of a country, or of a part of one, from its name
// or its code in any spelling: United States, Ohio, us-oh. A code is taken as
// it stands, whether or not its holidays are known; a name is known where it
// is of a country that is covered, of a state of the US or of a province of
// Canada.
func RegionCalled(name string) (code string, known bool) {
	name = strings.Join(strings.Fields(name), " ")
	for code, of := range countryNames {
		if strings.EqualFold(of, name) {
			return code, true
		}
	}
	for code, of := range partNames {
		if strings.EqualFold(of, name) {
			return code, true
		}
	}
	if code := canonical(name); regionForm.MatchString(code) {
		return code, true
	}
	return "", false
}

// regionForm is that of a code of ISO 3166-1 alpha-2, perhaps with one of
// ISO 3166-2 behind it.
var regionForm = regexp.MustCompile(`^[A-Z]{2}(-[A-Z0-9]{1,3})?$`)

// partNames are the states of the US and the provinces of Canada, by their
// codes in ISO 3166-2. Georgia is the state.
var partNames = map[string]string{
	"US-AL": "Alabama", "US-AK": "Alaska", "US-AZ": "Arizona", "US-AR": "Arkansas", "US-CA": "California", "US-CO": "Colorado",
	"US-CT": "Connecticut", "US-DE": "Delaware", "US-DC": "District of Columbia", "US-FL": "Florida", "US-GA": "Georgia", "US-HI": "Hawaii",
	"US-ID": "Idaho", "US-IL": "Illinois", "US-IN": "Indiana", "US-IA": "Iowa", "US-KS": "Kansas", "US-KY": "Kentucky", "US-LA": "Louisiana",
	"US-ME": "Maine", "US-MD": "Maryland", "US-MA": "Massachusetts", "US-MI": "Michigan", "US-MN": "Minnesota", "US-MS": "Mississippi",
	"US-MO": "Missouri", "US-MT": "Montana", "US-NE": "Nebraska", "US-NV": "Nevada", "US-NH": "New Hampshire", "US-NJ": "New Jersey",
	"US-NM": "New Mexico", "US-NY": "New York", "US-NC": "North Carolina", "US-ND": "North Dakota", "US-OH": "Ohio", "US-OK": "Oklahoma",
	"US-OR": "Oregon", "US-PA": "Pennsylvania", "US-RI": "Rhode Island", "US-SC": "South Carolina", "US-SD": "South Dakota",
	"US-TN": "Tennessee", "US-TX": "Texas", "US-UT": "Utah", "US-VT": "Vermont", "US-VA": "Virginia", "US-WA": "Washington",
	"US-WV": "West Virginia", "US-WI": "Wisconsin", "US-WY": "Wyoming",
	"CA-AB": "Alberta", "CA-BC": "British Columbia", "CA-MB": "Manitoba", "CA-NB": "New Brunswick", "CA-NL": "Newfoundland and Labrador",
	"CA-NS": "Nova Scotia", "CA-NT": "Northwest Territories", "CA-NU": "Nunavut", "CA-ON": "Ontario", "CA-PE": "Prince Edward Island",
	"CA-QC": "Quebec", "CA-SK": "Saskatchewan", "CA-YT": "Yukon",
}
