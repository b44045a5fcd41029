package book

import (
	"strings"
	"testing"
)

func TestChooseAnswersADoubt(t *testing.T) {
	for _, c := range []struct{ note, field, choice, want string }{
		{"rain 2", "amount", "2 in", "rain 50.8 depth"},
		{"picked 3 kg swet potato, north", "what", "kale", "picked 3 mass|kale|north"},
		{"picked 3 kg kale, noth bed", "where", "B4", "picked 3 mass|kale|B4"},
		{"put up 3 kg apples", "form", "frozen", "put up 3 mass|apple||frozen"},
	} {
		asked := Read(c.note, place())[0]
		r := asked.Choose(c.field, c.choice, place())
		if got := brief(r.Entry); r.Err != nil || len(r.Doubts) != 0 || !strings.Contains(got, c.want) {
			t.Errorf("%q, %s %s: %s %v %v", c.note, c.field, c.choice, got, r.Doubts, r.Err)
		}
		if len(asked.Doubts) != 1 || r.Sentence == asked.Sentence {
			t.Errorf("%q: the reading before must stay, and the sentence change: %q", c.note, r.Sentence)
		}
	}
}

func TestChooseRefuses(t *testing.T) {
	for _, c := range []struct{ field, choice, say string }{
		{"amount", "2 kg", "not an amount for rain"},
		{"amount", "", "not an amount for rain"},
		{"amount", "200 in", "the most in one entry"},
		{"colour", "red", "no question is asked"},
		{"where", "roof", "takes no place"},
	} {
		r := Read("rain 2", place())[0].Choose(c.field, c.choice, place())
		if r.Err == nil || !strings.Contains(r.Err.Error(), c.say) {
			t.Errorf("%s %q: want %q, got %v", c.field, c.choice, c.say, r.Err)
		}
	}
}
