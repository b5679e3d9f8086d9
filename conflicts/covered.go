package conflicts

import (
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
