package conflicts

import (
	"time"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/cy"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/ecb"
	"github.com/rickar/cal/v2/gr"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/it"
	"github.com/rickar/cal/v2/lu"
	"github.com/rickar/cal/v2/sk"
)

// euro is a country of the euro area. Its banks are shut on its own public
// holidays, and settle no payment on the closing days of TARGET: the European
// Central Bank's long-term calendar, decided on 14 December 2000, in which no
// day is moved off a weekend. A business day of banks is neither.
func euro(public []*cal.Holiday) region {
	return region{banks: amend(public, nil, ecb.Holidays...), federal: public}
}

// Public holidays of the euro area, where the library's list needs mending.
var (
	// The one-off holidays are Berlin's Sonn- und Feiertagsgesetz, section 1.
	berlin = amend(de.HolidaysBE, nil,
		once("Tag der Befreiung", 2020, time.May, 8),
		once("Tag der Befreiung", 2025, time.May, 8),
		once("Jahrestag des Volksaufstandes", 2028, time.June, 17),
	)

	// Frauentag is a holiday there from 2023.
	mecklenburg = amend(de.HolidaysMV, nil, yearly("Frauentag", 2023, time.March, 8))

	// The library's list calls New Year's Day by the name of Christmas.
	greece = amend(gr.Holidays, map[*cal.Holiday]*cal.Holiday{
		gr.Protoxronia:     named("Πρωτοχρονιά", gr.Protoxronia),
		gr.KatharaDeftera:  orthodox("Καθαρά Δευτέρα", -48),
		gr.MegaliParaskevi: orthodox("Μεγάλη Παρασκευή", -2),
		gr.DefteraPascha:   orthodox("Δευτέρα του Πάσχα", 1),
		gr.AgiouPrevmatos:  orthodox("Αγίου Πνεύματος", 50),
	})
	cyprus = amend(cy.Holidays, map[*cal.Holiday]*cal.Holiday{
		cy.KatharaDeftera:   orthodox("Καθαρά Δευτέρα", -48),
		cy.MegaliParaskevi:  orthodox("Μεγάλη Παρασκευή", -2),
		cy.DeuteraTouPascha: orthodox("Δευτέρα του Πάσχα", 1),
		cy.AgiouPnevmatos:   orthodox("Κατακλυσμός", 50),
	})

	ireland = amend(ie.Holidays, map[*cal.Holiday]*cal.Holiday{
		ie.FirstMondayMay:      named("May bank holiday", ie.FirstMondayMay),
		ie.FirstMondayJune:     named("June bank holiday", ie.FirstMondayJune),
		ie.FirstMondayAugust:   named("August bank holiday", ie.FirstMondayAugust),
		ie.LastMondayInOctober: named("October bank holiday", ie.LastMondayInOctober),
	})

	// Legge 8 ottobre 2025, n. 151, in force from 1 January 2026.
	italy = amend(it.Holidays, nil, yearly("San Francesco d'Assisi", 2026, time.October, 4))

	// The national day is 23 June, not July; Europe Day is a holiday from 2019.
	luxembourg = amend(lu.Holidays, map[*cal.Holiday]*cal.Holiday{
		lu.Nationalfeierdag: yearly("Nationalfeierdag", 0, time.June, 23),
	}, yearly("Europadag", 2019, time.May, 9))

	// 17 November is a working day from 2025; 8 May and 15 September are in
	// 2026 alone, by the law in force from 1 November 2025.
	slovakia = amend(sk.Holidays, map[*cal.Holiday]*cal.Holiday{
		sk.Freedom:       sk.Freedom.Clone(&cal.Holiday{EndYear: 2024}),
		sk.Liberation:    sk.Liberation.Clone(&cal.Holiday{Except: []int{2026}}),
		sk.LadyOfSorrows: sk.LadyOfSorrows.Clone(&cal.Holiday{Except: []int{2026}}),
	})
)
