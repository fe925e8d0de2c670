package catalog

// ByID finds records by their IDs; it holds pointers into the list given.
func ByID[T any](records []T, id func(*T) ID) map[ID]*T {
	m := make(map[ID]*T, len(records))
	for i := range records {
		m[id(&records[i])] = &records[i]
	}
	return m
}
