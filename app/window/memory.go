package window

import (
	"encoding/json"
	"os"
	"path/filepath"
	"sync"
)

// memory is what the window remembers between days, in one small file that is
// written whole or not at all: the toolkit's own preferences come out empty when
// the program is stopped while it writes them.
type memory struct {
	path string

	mu   sync.Mutex
	vals map[string]any
}

// remembered reads the memory kept at path. A file that is not there or cannot
// be read is an empty memory.
func remembered(path string) *memory {
	m := &memory{path: path, vals: map[string]any{}}
	if b, err := os.ReadFile(path); err == nil {
		if json.Unmarshal(b, &m.vals) != nil || m.vals == nil {
			m.vals = map[string]any{}
		}
	}
	return m
}

func recall[T any](m *memory, key string, fallback T) T {
	m.mu.Lock()
	defer m.mu.Unlock()
	if v, ok := m.vals[key].(T); ok {
		return v
	}
	return fallback
}

// set keeps a value; that it cannot be kept is no reason to stop working.
func (m *memory) set(key string, v any) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.vals[key] == v {
		return
	}
	m.vals[key] = v
	b, err := json.MarshalIndent(m.vals, "", " ")
	if err != nil || m.path == "" {
		return
	}
	if os.MkdirAll(filepath.Dir(m.path), 0o755) != nil {
		return
	}
	part := m.path + ".part"
	if os.WriteFile(part, b, 0o644) == nil {
		_ = os.Rename(part, m.path)
	}
}

func (m *memory) String(key string) string       { return recall(m, key, "") }
func (m *memory) SetString(key, v string)        { m.set(key, v) }
func (m *memory) Bool(key string) bool           { return recall(m, key, false) }
func (m *memory) SetBool(key string, v bool)     { m.set(key, v) }
func (m *memory) SetFloat(key string, v float64) { m.set(key, v) }
func (m *memory) SetInt(key string, v int)       { m.set(key, float64(v)) }

// FloatWithFallback is a number, or what to take when none is remembered.
func (m *memory) FloatWithFallback(key string, f float64) float64 { return recall(m, key, f) }

// IntWithFallback is a whole number, or what to take when none is remembered.
func (m *memory) IntWithFallback(key string, f int) int {
	return int(recall(m, key, float64(f)))
}
