package unit

import "strings"

// Nearest returns the entry of among that word was most likely meant to be, or
// "" when none is close: at most one slip in three letters, case ignored. A
// slip is a letter added, left out, changed, or swapped with its neighbour.
// The first of equals wins.
func Nearest(word string, among []string) string {
	w := strings.ToLower(strings.TrimSpace(word))
	best, least := "", max(1, len([]rune(w))/3)+1
	for _, a := range among {
		l := strings.ToLower(a)
		if d := slips(w, l); d < least && d < max(len([]rune(l)), 1) {
			best, least = a, d
		}
	}
	return best
}

// slips is the restricted edit distance of Damerau (1964) with transpositions.
func slips(a, b string) int {
	s, t := []rune(a), []rune(b)
	if n := len(s) - len(t); n > 8 || n < -8 || len(s) > 64 {
		return 64
	}
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range t {
		rows[0][j+1] = j + 1
	}
	for i := range s {
		for j := range t {
			rows[i+1][j+1] = min(rows[i][j+1]+1, rows[i+1][j]+1, rows[i][j]+changed(s[i] != t[j]))
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				rows[i+1][j+1] = min(rows[i+1][j+1], rows[i-1][j-1]+1)
			}
		}
	}
	return rows[len(s)][len(t)]
}

func changed(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
