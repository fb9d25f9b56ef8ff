package cause

// Singles returns the sets of up to limit elements, the smaller first, each of
// which would by itself explain every reaction: it lies inside all runs that
// reacted and inside none that was clean. With no reaction there is nothing to
// explain, and with two causes or more none is left.
func Singles(runs []Run, limit int) []Set {
	common, clean := ^Set(0), []Set{}
	reacted := false
	for _, r := range runs {
		if r.Reacted {
			common, reacted = common&r.Members, true
		} else {
			clean = append(clean, r.Members)
		}
	}
	var list []Set
	if !reacted {
		return list
	}
	for s := range subsets(common, limit) {
		if s != 0 && !anyContains(clean, s) {
			list = append(list, s)
		}
	}
	return tidy(list)
}
