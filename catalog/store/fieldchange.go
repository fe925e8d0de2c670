package store

import (
	"encoding/json"
	"fmt"
	"sort"
)

// fieldChanges pairs the fields of two JSON objects, by name.
func fieldChanges(old, now string) ([]FieldChange, error) {
	var was, is fieldsJSON
	for _, side := range []struct {
		text string
		into *fieldsJSON
	}{{old, &was}, {now, &is}} {
		if side.text == "" {
			continue
		}
		if err := json.Unmarshal([]byte(side.text), side.into); err != nil {
			return nil, fmt.Errorf("the history cannot be read: %w", err)
		}
	}
	byName := map[string]FieldChange{}
	for name, raw := range was {
		byName[name] = FieldChange{Name: name, Old: string(raw)}
	}
	for name, raw := range is {
		c := byName[name]
		c.Name, c.New = name, string(raw)
		byName[name] = c
	}
	all := make([]FieldChange, 0, len(byName))
	for _, c := range byName {
		all = append(all, c)
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Name < all[j].Name })
	return all, nil
}
