package tables

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"testing"
)

// FuzzRead reads any bytes as the tables of plates and their titles and
// impressions: they are refused with a reason for each fault, or the catalogue
// they give is the same after it was written and read again.
func FuzzRead(f *testing.F) {
	f.Add([]byte("id,number.n,standing\r\np1,1,accepted\r\n"), []byte("of,order,text\r\np1,1,Weir\r\n"), []byte("id,plate_id,pulled_at\r\ni1,p1,2026-03-01T09:30:00Z\r\n"))
	f.Add([]byte("id,plate_mark.height_mm,subjects\r\np1,1e3,\"a\\n\nb\\e\n\"\r\n"), []byte("of,text\r\n'=p,\r\n"), []byte("id,sheet.width_mm\r\n'=i,NaN\r\n"))
	f.Add([]byte("id\r\np1\r\np1\r\n"), []byte("order\r\n1\r\n"), []byte("\ufeffid,pull\r\ni1,-0\r\n"))
	f.Fuzz(func(t *testing.T, plates, titles, impressions []byte) {
		dir := t.TempDir()
		for name, text := range map[string][]byte{"plate": plates, "plate_titles": titles, "impression": impressions} {
			if err := os.WriteFile(filepath.Join(dir, name+".csv"), text, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		first, err := Read(context.Background(), dir)
		var list *ReadError
		if errors.As(err, &list) {
			if len(list.Problems) == 0 || len(list.Problems) > maxProblems || first != nil {
				t.Fatalf("refused with %d reasons", len(list.Problems))
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		to := t.TempDir()
		if err := Write(context.Background(), to, first, nil); err != nil {
			t.Fatal(err)
		}
		second, err := Read(context.Background(), to)
		if err != nil {
			t.Fatalf("what was written is refused: %v", err)
		}
		if !reflect.DeepEqual(first, second) {
			t.Fatalf("%+v came back as %+v", first, second)
		}
	})
}
