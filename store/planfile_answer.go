package store

import (
	"strings"

	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// answers reads what stands under "answer": one answer, or a list of them.
func (t table) answers() []milestones.Answer {
	n := t.values["answer"]
	if absent(n) {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		return []milestones.Answer{t.f.answer(entry{n, t.sub("answer")})}
	}
	var all []milestones.Answer
	for _, one := range t.list("answer") {
		all = append(all, t.f.answer(one))
	}
	return all
}

// answersByName reads what stands under "answers", each by what it is about.
func (t table) answersByName() []milestones.NamedAnswer {
	var all []milestones.NamedAnswer
	t.each("answers", func(name string, n *yaml.Node, path string) {
		all = append(all, milestones.NamedAnswer{Name: name, Answer: t.f.answer(entry{n, path})})
	})
	return all
}

// answer reads who wrote what and when. All but their words have to be there:
// an answer of nobody's, or of no day, can be held against nobody.
func (f *filed) answer(e entry) milestones.Answer {
	if absent(e.node) {
		f.fault(e.node, e.path, "write it as "+sampleAnswer, "the answer is missing")
		return milestones.Answer{}
	}
	t := f.table(e.node, e.path, "reads", "who", "on", "says")
	if e.node.Kind != yaml.MappingNode {
		return milestones.Answer{}
	}
	a := milestones.Answer{Reads: t.must("reads", "reads: before"), Who: t.must("who", "who: june"), Says: t.text("says")}
	if t.must("on", "on: 2026-11-20") != "" {
		a.On = read(t, "on", day)
	}
	return a
}

const sampleAnswer = `{reads: before, who: june, on: 2026-11-20, says: "what they wrote"}`

// Settling is what to write in the plan file to settle q with answer a: the
// line in its longer form, or a line under "answers".
func Settling(q milestones.Question, a milestones.Answer) (string, error) {
	plain := func(s string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: s} }
	answer := &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle, Content: []*yaml.Node{
		plain("reads"), plain(a.Reads), plain("who"), plain(a.Who), plain("on"), plain(a.On.String()),
		plain("says"), {Kind: yaml.ScalarNode, Value: a.Says, Style: yaml.DoubleQuotedStyle}}}
	lines := &yaml.Node{Kind: yaml.MappingNode}
	switch {
	case q.Under != "":
		named := &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{plain(q.Under), answer}}
		lines.Content = []*yaml.Node{plain("answers"), named}
	case q.Line != "":
		lines.Content = []*yaml.Node{plain("says"), plain(q.Line), plain("answer"), answer}
	default: // an appointment or a milestone has its phrase under a key of its own
		lines.Content = []*yaml.Node{plain("answer"), answer}
	}
	var text strings.Builder
	enc := yaml.NewEncoder(&text)
	enc.SetIndent(2)
	if err := enc.Encode(lines); err != nil {
		return "", err
	}
	return strings.TrimRight(text.String(), "\n"), enc.Close()
}
