package search

import "strings"

// Words left out of the index, because they stand in nearly every document and
// ask for nothing. The lists are ours: the usual ones also drop not, no,
// before, after, over, under, without, until and only, and in this field "do
// not mix before" is about all four words.
const (
	stopEnglish = `a about all also am an and any are as at be been being but by can could did do does for from
		had has have having he her here his how i if in into is it its itself may me might more most my of on or
		other our she should so some such than that the their them themselves then there these they this those to
		too us very was we were what when where which while who whom why will with would you your`
	stopSpanish = `a al algo algunas algunos ante aquel como con cual cuales de del desde donde e el ella
		ellas ellos en entre era eran es esa esas ese eso esos esta estaba estan estar estas este esto estos fue
		fueron ha haber habia hay la las le les lo los me mi mis mucho muy nos nosotros o otra otras otro otros
		para pero por porque puede pueden que quien quienes se sea ser si sobre son su sus tambien tan te tiene
		tienen todo todos tu tus u un una unas uno unos y ya yo`
)

// stopWords returns the words left out in a language, folded and in order.
func stopWords(lang string) []string {
	if lang == "es" {
		return strings.Fields(stopSpanish)
	}
	return strings.Fields(stopEnglish)
}

// stopSet returns stopWords as a set.
func stopSet(lang string) map[string]bool {
	set := make(map[string]bool)
	for _, w := range stopWords(lang) {
		set[w] = true
	}
	return set
}
