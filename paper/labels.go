package paper

import (
	"fmt"

	"evenstead/book"
	"evenstead/day"
	"evenstead/engine"
	"evenstead/larder"
)

// labels are one for each drum and each lot, to cut out.
func labels(f *Facts) *Sheet {
	s := f.sheet("labels")
	s.Lead, s.Rest = f.say("labels.lead"), f.say("labels.rest")
	var drums, lots []Label
	for _, d := range f.drums() {
		drums = append(drums, f.drumLabel(&d))
	}
	for _, l := range f.Shelves() {
		lots = append(lots, f.lotLabel(l.LotNow))
	}
	lots, left := within(f.MostLabels, lots)
	s.add(Part{Title: f.say("labels.drums"), Labels: drums}, Part{Title: f.say("labels.lots"), Note: f.leftOut(left), Break: len(drums) > 0, Labels: lots})
	if len(s.Parts) == 0 {
		s.Rest = f.say("labels.none")
	}
	return s
}

func (f *Facts) drumLabel(d *engine.DrumNow) Label {
	l := Label{Number: fmt.Sprintf("D%d", d.Number), What: f.say("drum", fmt.Sprint(d.Number)), Path: fmt.Sprintf("/drum/%d", d.Number), Care: f.gate("drum"), Quoted: true}
	switch {
	case d.Closed != 0:
		l.Facts = []string{f.say("label.closed", f.long(d.Closed)), f.say("label.opens", f.long(d.Opens)), f.say("label.holds", f.litres(d.Litres))}
	case d.Filling:
		l.Facts = []string{f.say("label.filling", f.long(d.Begun)), f.say("label.closedon"), f.say("label.openson")}
	default:
		l.Facts = []string{f.say("label.empty"), f.say("label.closedon"), f.say("label.openson")}
	}
	return l
}

func (f *Facts) lotLabel(l *engine.LotNow) Label {
	n := larder.LotNumber(l.Food, l.Form, l.Place)
	out := Label{Number: n, What: f.lot(l), Path: "/lot/" + n, Facts: []string{f.kg(l.Kg) + ", " + l.Place, f.dated(l)}}
	if l.Quarter != 0 {
		out.Facts = append(out.Facts, f.say("label.keeps", f.long(l.Quarter)))
	} else {
		out.Facts = append(out.Facts, f.say("label.keeps", f.say("years")))
	}
	if key := "label.care." + l.Form; f.Say("paper."+key) != "paper."+key {
		out.Care = f.say(key)
	}
	return out
}

// dated is the day a lot was put up by the book, else the day it was last seen.
func (f *Facts) dated(l *engine.LotNow) string {
	if d := f.putUp(l); d != 0 {
		return f.say("label.putup", f.long(d))
	}
	return f.say("label."+l.How, f.long(l.Day))
}

func (f *Facts) putUp(l *engine.LotNow) (last day.Day) {
	for i := range f.Entries {
		if e := &f.Entries[i]; e.Kind == book.PutUp && e.Body.What == l.Food && e.Body.Form == l.Form {
			last = max(last, e.Day)
		}
	}
	return last
}

// Lot finds a lot by the number on its label; nil when none in store has it.
func (f *Facts) Lot(number string) *Shelved {
	for _, l := range f.Shelves() {
		if larder.LotNumber(l.Food, l.Form, l.Place) == number {
			return &l
		}
	}
	return nil
}

// LabelOf is the label of a lot.
func (f *Facts) LabelOf(s *Shelved) Label { return f.lotLabel(s.LotNow) }

// DrumLabel is the label of a drum; false when there is none of the number.
func (f *Facts) DrumLabel(number int) (Label, bool) {
	for _, d := range f.drums() {
		if d.Number == number {
			return f.drumLabel(&d), true
		}
	}
	return Label{}, false
}
