package imaging

// lineWork is what the reference's lines are, found once.
type lineWork struct {
	support []bool // where line ink may lie, halo included
	mass    float64
}

// findLines marks the reference's line work.
func findLines(s *Sheet) *lineWork {
	return &lineWork{support: s.Line}
}
