package main

import (
	"fmt"

	"evenstead/paper"
	"evenstead/unit"
)

// agreement prints one page for both sides to sign.
func (s *statement) agreement(p *printer) error {
	deals := s.deals()
	if len(deals) == 0 {
		return given(fmt.Errorf("no exchange is described: write [[exchange]] with hours_week in the description"))
	}
	for i := range deals {
		s.page(p, &deals[i])
	}
	return p.err
}

func (s *statement) page(p *printer, d *paper.Deal) {
	p.line("AGREEMENT FOR THE USE OF LAND")
	p.line("")
	p.wrap("", fmt.Sprintf("Between %s (the owner) and the household of %s (%s).", d.With, s.st.Name, s.people()))
	for i, point := range s.points(d) {
		p.wrap(fmt.Sprintf("%d. ", i+1), point)
	}
	p.line("")
	p.line("Owner      ______________________   date ______________")
	for _, who := range s.st.People {
		p.line("%s ______________________   date ______________", fill(who.Name, 10))
	}
}

func (s *statement) people() string {
	out := ""
	for i, who := range s.st.People {
		if i > 0 {
			out += ", "
		}
		out += who.Name
	}
	return out
}

// points are what is agreed, by the description.
func (s *statement) points(d *paper.Deal) []string {
	term := "From " + plain(s.from.Long())
	if s.st.Stay.To != 0 {
		term += " to " + plain(s.st.Stay.To.Long())
	}
	beds := 0.0
	for _, b := range s.st.Beds {
		beds += b.Area
	}
	out := []string{
		fmt.Sprintf("%s the household may live on and use the place: %s of beds, %s of trees and vines, %s, %s.", term, s.say(beds, unit.Area),
			counted(len(s.st.Trees), "stand", "stands"), counted(len(s.st.Roofs), "roof", "roofs"), counted(len(s.st.Tanks), "tank", "tanks")),
		fmt.Sprintf("In return it works %.3g hours a week for the owner%s. Hours are written down the day they are done.", d.Term.Weekly, s.byMonth(d)),
	}
	if d.Term.Share > 0 {
		out = append(out, fmt.Sprintf("The owner takes %s of the crop a year.", s.say(d.Term.Share, unit.Mass)))
	}
	out = append(out,
		"Both look at the statement once a month and put their initials under it. Hours owed or ahead carry over to the next month.",
		"Illness and bad weather move hours, and do not cancel them. Either side may end this with two months' notice; the harvest that stands may be brought in.")
	if s.st.Stay.LeftTo != "" {
		out = append(out, fmt.Sprintf("At the end beds, trees, tanks and what is built stay with %s, unless listed below by name.", s.st.Stay.LeftTo))
	}
	for _, r := range s.st.Rules {
		out = append(out, fmt.Sprintf("Rule of the place: %s (%s).", r.Text, r.Source))
	}
	return append(out,
		"Toilet waste, urine, washing water and gas are handled by the published rules the household keeps, and by local codes where these ask more.",
		"Neither side takes this for a lease or a wage: both ask locally what the law makes of work for land, of dwelling there and of insurance, before they sign.")
}

func (s *statement) byMonth(d *paper.Deal) string {
	if d.Term.Months == [12]float64{} {
		return ""
	}
	out := ", by month"
	for m, f := range d.Term.Months {
		sep := " "
		if m > 0 {
			sep = ", "
		}
		out += fmt.Sprintf("%s%s %.3g", sep, monthShort(m), f*d.Term.Weekly)
	}
	return out
}

// monthShort is a month's first three letters.
func monthShort(m int) string {
	return [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}[m]
}
