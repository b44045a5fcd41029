package book

import (
	"regexp"
	"strconv"
	"strings"
)

var (
	andHalf  = regexp.MustCompile(`(?i)\b(\d+|one|two|three|four|five|six|seven|eight|nine|ten) and a half\b`)
	halfA    = regexp.MustCompile(`(?i)\bhalf an? (dozen )?`)
	dozens   = regexp.MustCompile(`(?i)\b(\d+|a|an|one|two|three|four|five|six) dozens?( of)?\b`)
	partFull = regexp.MustCompile(`(?i)([/½⅓⅔¼¾⅛⅜⅝⅞%]\d*) full$`)
	filled   = regexp.MustCompile(`(?i)\b(half|quarter|empty)( full)?$|\b(full)$`)
	numeral  = regexp.MustCompile(`(?i)\b(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b`)
)

// figures writes numbers in words as figures.
func figures(s string) string {
	s = andHalf.ReplaceAllStringFunc(s, func(m string) string {
		return strconv.Itoa(counting(strings.Fields(m)[0])) + " 1/2"
	})
	s = halfA.ReplaceAllStringFunc(s, func(m string) string {
		if strings.Contains(strings.ToLower(m), "dozen") {
			return "6 "
		}
		return "1/2 "
	})
	s = dozens.ReplaceAllStringFunc(s, func(m string) string {
		return strconv.Itoa(12*max(1, counting(strings.Fields(m)[0]))) + " "
	})
	return numeral.ReplaceAllStringFunc(s, func(m string) string { return strconv.Itoa(counting(m)) })
}

// levels writes how full a tank is, said at the end of a line, as a share.
func levels(s string) string {
	return filled.ReplaceAllStringFunc(partFull.ReplaceAllString(s, "$1"), level)
}

func level(w string) string {
	switch strings.ToLower(strings.Fields(w)[0]) {
	case "half":
		return "50 %"
	case "quarter":
		return "25 %"
	case "empty":
		return "0 %"
	}
	return "100 %"
}
