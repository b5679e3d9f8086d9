package main

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"banns/milestones"
	"banns/store"
)

// The README's tables of a plan's keys and phrases, held to their readers.

// tableUnder are the rows of the table under a heading of the README, each cut into
// its two cells, by the words in code in the first; "" where there is none.
func tableUnder(t *testing.T, heading string) map[string]string {
	t.Helper()
	_, rest, ok := strings.Cut(readme(t), "\n"+heading+"\n")
	if !ok {
		t.Fatalf("the README has no %q", heading)
	}
	rest, _, _ = strings.Cut(rest, "\n#")
	cells := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^\| ([^|]*) \| ([^|]*) \|$`).FindAllStringSubmatch(rest, -1)[1:] {
		names := inCode(m[1])
		if len(names) == 0 {
			names = []string{""}
		}
		for _, name := range names {
			cells[name] += m[2]
		}
	}
	return cells
}

var code = regexp.MustCompile("`([^`]+)`")

// inCode are the pieces of code in a text of Markdown.
func inCode(text string) []string {
	var all []string
	for _, m := range code.FindAllStringSubmatch(text, -1) {
		all = append(all, m[1])
	}
	return all
}

// unheard is a word that no plan has a use for, and that is near to none.
const unheard = "zzqqxx"

// TestReadmeKeys finds every key that the reader of plans takes, by asking it
// about a word that it does not know wherever a set of keys can stand, and
// holds the README to just those. The words that a key can have are asked for
// in the same way.
func TestReadmeKeys(t *testing.T) {
	told := tableUnder(t, "### Its keys")
	keys, words := readersKeys(t)
	for name, known := range keys {
		var named []string
		for _, one := range inCode(told[name]) {
			if key, ok := strings.CutSuffix(one, ":"); ok {
				named = append(named, key)
			}
		}
		slices.Sort(named)
		if !slices.Equal(named, known) {
			t.Errorf("of %q the README names\n%q, and the reader takes\n%q", name, named, known)
		}
		for _, word := range words[name] {
			if !strings.Contains(told[name], word) {
				t.Errorf("of %q the README lacks %q", name, word)
			}
		}
		delete(told, name)
	}
	for name := range told {
		t.Errorf("the README tells of %q, which holds no keys", name)
	}
	if len(keys) < 10 {
		t.Errorf("only %d sets of keys were found", len(keys))
	}
}

// readersKeys are the keys that a plan takes, by the key of the set they stand
// in, and the words that some of them must be. Sets of one name are alike.
func readersKeys(t *testing.T) (keys, words map[string][]string) {
	keys, words = map[string][]string{}, map[string][]string{}
	var visit func(name string, under func(inside string) string)
	visit = func(name string, under func(inside string) string) {
		known := choice(t, under("{"+unheard+": 1}"), "known here are: ")
		if known == nil {
			return
		}
		slices.Sort(known)
		if had, ok := keys[name]; ok {
			if !slices.Equal(had, known) {
				t.Errorf("%q takes %q in one place and %q in another", name, had, known)
			}
			return
		}
		keys[name] = known
		for _, key := range known {
			if such := choice(t, under("{"+key+": "+unheard+"}"), "write one of: "); such != nil {
				words[name] = append(words[name], such...)
			}
			for _, form := range []string{"%", "{" + unheard + ": %}", "[%]"} {
				visit(key, func(inside string) string {
					return under("{" + key + ": " + strings.Replace(form, "%", inside, 1) + "}")
				})
			}
		}
	}
	visit("", func(inside string) string { return inside })
	return keys, words
}

// choice is what the reader offers instead of the unheard word in a plan.
func choice(t *testing.T, plan, offered string) []string {
	t.Helper()
	_, err := store.ReadPlan("plan", []byte(plan))
	var faults store.Faults
	if !errors.As(err, &faults) {
		t.Fatalf("%s is taken for a plan: %v", plan, err)
	}
	for _, f := range faults {
		if list, ok := strings.CutPrefix(f.Mend, offered); ok && strings.Contains(f.Says, unheard) {
			return strings.Split(list, ", ")
		}
	}
	return nil
}

// TestReadmePhrases: every phrase that the README shows is read in its list,
// and together they show every form of payment, of cost and of count.
func TestReadmePhrases(t *testing.T) {
	var hall milestones.Agreement
	var hire []milestones.Payment // equal payments do not stand beside a balance
	for list, cell := range tableUnder(t, "### Its phrases") {
		for _, says := range inCode(cell) {
			line := milestones.Line{Says: says}
			switch milestones.List(list) {
			case milestones.PayList:
				if pay := (milestones.Payment{Line: line}); strings.Contains(says, "equal") {
					hire = append(hire, pay)
				} else {
					hall.Pay = append(hall.Pay, pay)
				}
			case milestones.CancelList:
				hall.Cancel = append(hall.Cancel, milestones.CancelStep{Line: line})
			case milestones.ChangeList:
				hall.Change = append(hall.Change, milestones.ChangeBy{Line: line})
			case milestones.PapersList:
				hall.Papers = append(hall.Papers, milestones.Paper{Line: line})
			case milestones.PostponeList:
				hall.Postpone = &milestones.Postpone{Line: line}
			case "":
				hall.Change = append(hall.Change, milestones.ChangeBy{Line: milestones.Line{Says: "songs " + says}})
			default:
				t.Errorf("the README shows phrases of %q, which is no list", list)
			}
		}
	}
	hall.Key, hall.With, hall.Standing, hall.BusinessDays = "hall", "The Net Loft", milestones.Quoted, milestones.Banks
	other := hall
	other.Key, other.Pay, other.Cancel, other.Change, other.Papers, other.Postpone = "hire", hire, nil, nil, nil, nil
	p := &milestones.Plan{Wedding: milestones.Wedding{Zone: "America/Detroit", Currency: "USD"}, Agreements: []milestones.Agreement{hall, other}}
	faults, _ := p.Read()
	for _, f := range faults {
		t.Errorf("a phrase of the README cannot be read: %v", f)
	}
	shown := map[any]bool{}
	for _, a := range p.Agreements {
		for _, one := range a.Pay {
			shown[one.Form] = true
		}
		for _, one := range a.Cancel {
			for _, part := range one.Cost.Parts {
				shown[part.Form] = true
			}
		}
		for _, one := range a.Change {
			shown[one.When.Unit], shown[one.When.Bound] = true, true
		}
	}
	for _, form := range []any{
		milestones.ByShare, milestones.FixedSum, milestones.Balance, milestones.Equal, milestones.Security,
		milestones.NoCost, milestones.OfPrice, milestones.OfRest, milestones.OfPaid, milestones.OfUnpaid, milestones.SumOfMoney, milestones.FirstPayment,
		milestones.Day, milestones.BusinessDay, milestones.Week, milestones.Month, milestones.Year, milestones.Hour,
		milestones.OnTheDay, milestones.MoreThan, milestones.FewerThan, milestones.WithinOf,
	} {
		if !shown[form] {
			t.Errorf("no phrase of the README is of the %T %v", form, form)
		}
	}
}
