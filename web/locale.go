package web

import (
	"net/http"

	"golang.org/x/text/language"
)

// usRegions read US units: those that CLDR's measurementSystem names beside the
// United States (from memory).
var usRegions = map[string]bool{"US": true, "LR": true, "MM": true}

// tongues matches what a browser asks for to the languages that the pages have.
var tongues = func() language.Matcher {
	var tags []language.Tag
	for _, l := range languages {
		tags = append(tags, language.Make(l.Key))
	}
	return language.NewMatcher(tags)
}()

// localeOf reads the languages of a browser (RFC 9110, 12.5.4): the one of ours
// that suits it best, and whether its first names a region that reads US units.
// A header that can't be read counts as none.
func localeOf(r *http.Request) (lang string, us bool) {
	tags, _, err := language.ParseAcceptLanguage(r.Header.Get("Accept-Language"))
	if err != nil || len(tags) == 0 {
		return languages[0].Key, false
	}
	_, i, _ := tongues.Match(tags...)
	region, sure := tags[0].Region()
	return languages[i].Key, sure == language.Exact && usRegions[region.String()]
}
