package imaging

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"pullbook/imaging/platesim"
)

func TestDbgGen(t *testing.T) {
	dir := os.Getenv("SIMDIR")
	if dir == "" {
		t.Skip("only by hand")
	}
	os.MkdirAll(dir, 0o755)
	for i, scene := range platesim.Scenes() {
		for _, kind := range []platesim.Light{platesim.Even, platesim.Rough} {
			seed := uint64(100 + 10*i + int(kind))
			tech := platesim.Technique((i*3 + int(kind)) % 4)
			name := fmt.Sprintf("%d-%d", i, kind)
			if _, err := os.Stat(dir + "/" + name + ".json"); err == nil {
				continue
			}
			pl := platesim.New(seed, tech, scene, platesim.Options{})
			tr := pl.Truth(name)
			for k, pull := range []int{3, 8, 25, 60} {
				c := platesim.NewConditions(kind, seed*100+uint64(k))
				img, ph := pl.Photograph(1, pull, c, seed*1000+uint64(k))
				ph.File = fmt.Sprintf("%s-%d.jpg", name, pull)
				f, _ := os.Create(dir + "/" + ph.File)
				if err := platesim.Encode(f, img, c); err != nil {
					t.Fatal(err)
				}
				f.Close()
				tr.Photos = append(tr.Photos, ph)
			}
			b, _ := json.Marshal(tr)
			os.WriteFile(dir+"/"+name+".json", b, 0o644)
			fmt.Println(name, scene, tech)
		}
	}
}
