package notation

import (
	"strconv"
	"testing"

	"pullbook/catalog/say"
)

// Wordings of the kinds counted in the museums' own records, with the reading
// they must have. The readings follow the format's definition of each sign.
func TestParseDate(t *testing.T) {
	for s, want := range map[string]string{
		"1807": "1807", "c. 1911": "1911~", "c.1911": "1911~", "ca. 1958": "1958~", "circa 1911": "1911~", "?c.1820": "1820%",
		"1918?": "1918?", "before 1923": "[..1922]", "by 1923": "[..1923]", "1923 or earlier": "[..1923]",
		"after 1945": "[1946..]", "1945 or later": "[1945..]", "after March 6, 1962": "[1962-03-07..]",
		"1911-12": "1911/1912", "1911–12": "1911/1912", "1988–9": "1988/1989", "c.1937–50": "1937~/1950~",
		"1879-1880": "1879/1880", "(1999-2002)": "1999/2002", "1985-04": "1985-04", "1985-04-12": "1985-04-12",
		"1970s": "197X", "c. 1930s": "193X~", "18th century": "17XX", "17th-19th century": "16XX/18XX",
		"late 17th-early 18th century": "16XX/17XX", "early 1620s": "162X", "mid-17th century": "16XX",
		"first half of the 19th century": "18XX", "?mid 1830s or later": "[183X?..]",
		"3/24/1929": "1929-03-24", "6/4/1930": "[1930-04-06,1930-06-04]", "24.3.1929": "1929-03-24",
		"February 15, 1800": "1800-02-15", "15 February 1800": "1800-02-15", "May 1939": "1939-05", "1932, December": "1932-12",
		"Sep 26, 1896 (date of publication)": "1896-09-26", "October 30. 1875": "1875-10-30", "(May 29) 1970": "1970-05-29",
		"(July 12-24, 1962)": "1962-07-12/1962-07-24", "(November 15-December 12, 1960)": "1960-11-15/1960-12-12",
		"(December 1962-January 1963)": "1962-12/1963-01", "Autumn 1916": "1916-23", "Autumn-Winter, 1913, published 1914": "1913-23/1913-24",
		"published 1843": "1843", "1972, published 1983": "1972", "(Published 1990)": "1990", "1963, printed after 1971": "1963",
		"1960.  (Print executed 1952).": "1952", "1985, 1991": "{1985,1991}", "1995–6, 2007": "{1995..1996,2007}",
		"Edo period (1603-1867), c. 1770": "1770~", "Edo period (1603-1867)": "1603/1867", "600-500 BC": "-0599/-0499",
		"um 1911": "1911~", "vers 1911": "1911~", "vor 1923": "[..1922]", "19. Jahrhundert": "18XX", "3. März 1911": "1911-03-03",
		"1911 or 1912": "[1911,1912]", "1911 and 1914": "{1911,1914}", "10.1911": "1911-10", "10/1911": "1911-10", "1911/12": "1911/1912",
		"13/1911": "", "2/29/1912": "1912-02-29", "29.2.1911": "", "31.4.1911": "", "0.4.1911": "", "1911-13-01": "", "1911-00-05": "", "April 31, 1911": "", "30. Februar 1911": "", "February 29, 1911": "", "February 29, 1912": "1912-02-29", "1900s": "19XX", "Herbst 1911": "1911-23", "6 April or 4 June 1930": "[1930-04-06,1930-06-04]",
		"n.d.": "", "undated": "", "no date": "", "": "", "some time ago": "", "No. 12/1930": "", "10 3/8 x 14": "",
		"[1667,1668]": "[1667,1668]", "1984~": "1984~", "1950-1940": "",
	} {
		r := ParseDate(s)
		if r.Date.EDTF != want {
			t.Errorf("%q is read as %q, want %q", s, r.Date.EDTF, want)
		}
		if r.Raw != s || r.Date.Text != s {
			t.Errorf("%q is not kept as written", s)
		}
		if want == "" && len(r.Flags) == 0 {
			t.Errorf("%q has no reading and no flag", s)
		}
	}
}

func TestParseDateFlags(t *testing.T) {
	for s, want := range map[string]Flag{
		"1911-12": FlagYearOrMonth, "6/4/1930": FlagDayOrMonth, "early 1620s": FlagPartOfPeriod, "n.d.": FlagNoDate,
		"1972, published 1983": FlagOtherEvent, "some time ago": FlagUnread, "31.4.1911": FlagNoSuchDay, "1911-13-01": FlagNoSuchDay, "600-500 BC": FlagBeforeChrist,
		"Edo period (1603-1867)": FlagNamedPeriod, "1800 Elm Street": FlagMoreText,
	} {
		if r := ParseDate(s); !r.Flags.Has(want) {
			t.Errorf("%q: flags %q lack %q", s, r.Flags, want)
		}
	}
	for _, s := range []string{"c. 1911", "1911–1912", "5 May 1939", "before 1923", "1970s"} {
		if r := ParseDate(s); !r.Certain() {
			t.Errorf("%q is not certain: %q", s, r.Flags)
		}
	}
}

// What the book prints must be read back as the same expression.
func TestDateWordsRoundTrip(t *testing.T) {
	for edtf, want := range map[string]string{
		"1911": "1911", "1911~": "c. 1911", "1911?": "1911?", "1911%": "c. 1911?", "1911/1914": "1911–14", "1898/1902": "1898–1902",
		"1930~/1950~": "c. 1930–50", "[..1922]": "before 1923", "[1946..]": "after 1945", "197X": "1970s", "17XX": "18th century",
		"16XX/18XX": "17th–19th century", "1939-05": "May 1939", "1939-05-03": "3 May 1939", "1916-23": "autumn 1916",
		"[1930-04-06,1930-06-04]": "6 April 1930 or 4 June 1930", "{1985,1991}": "1985 and 1991", "1962-12/1963-01": "December 1962 – January 1963",
		"20XX": "21st century", "1799/..": "from 1799", "-0599": "600 BC", "1985-04-XX": "April 1985", "2004-06~": "c. June 2004",
	} {
		if got := DateWords(edtf); got != want {
			t.Errorf("%s in words is %q, want %q", edtf, got, want)
		}
		again := ParseDate(want).Date.EDTF
		switch edtf {
		case "1799/..", "1985-04-XX":
			// Said in words these come back as an equal expression; the days must be the same.
			a, err := ParseEDTF(edtf)
			if err != nil {
				t.Fatal(err)
			}
			lo, hi := a.Span()
			if lo2, hi2 := ParseDate(want).Span(); lo != lo2 || hi != hi2 {
				t.Errorf("%q comes back as %q", want, again)
			}
		default:
			if again != edtf {
				t.Errorf("%q comes back as %q, want %q", want, again, edtf)
			}
		}
	}
}

// gold_dates.csv: date texts of five museums with their own earliest and
// latest year. Museums widen "c." differently, so the spans must overlap.
func TestGoldDates(t *testing.T) {
	var dated, read, overlap, all, allRead int
	for _, row := range table(t, records, "gold_dates.csv") {
		r := ParseDate(row["date_text"])
		all++
		if r.Raw != row["date_text"] {
			t.Fatalf("%q is not kept as written", row["date_text"])
		}
		if r.Date.EDTF != "" || r.Flags.Has(FlagNoDate) {
			allRead++
		}
		lo, err1 := strconv.ParseInt(row["museum_earliest"], 10, 64)
		hi, err2 := strconv.ParseInt(row["museum_latest"], 10, 64)
		if err1 != nil || err2 != nil || r.Flags.Has(FlagNoDate) {
			continue
		}
		dated++
		if r.Date.EDTF == "" {
			t.Logf("not read: %q (%d-%d)", row["date_text"], lo, hi)
			continue
		}
		read++
		first, last := r.Span()
		if (first.Kind != BoundKnown || first.Day.Year <= hi) && (last.Kind != BoundKnown || last.Day.Year >= lo) {
			overlap++
		} else {
			t.Logf("no overlap: %q read as %s, museum %d-%d", row["date_text"], r.Date.EDTF, lo, hi)
		}
	}
	t.Logf("%d texts, %d read or said to be undated; %d with museum years, %d read, %d overlap (%.2f %% of those read)",
		all, allRead, dated, read, overlap, 100*float64(overlap)/float64(read))
	if float64(allRead) < 0.995*float64(all) {
		t.Errorf("only %d of %d texts were read", allRead, all)
	}
	// The misses are years in which the museum contradicts its own text ("1513", 1512).
	if float64(overlap) < 0.99*float64(read) {
		t.Errorf("only %d of %d readings overlap the museum's years", overlap, read)
	}
}

func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"c. 1911", "before 1923", "1911-12", "6/4/1930", "late 17th-early 18th century",
		"(November 15-December 12, 1960)", "600-500 BC", "1995–6, 2007", "?mid 1830s or later", "Edo period (1603-1867), c. 1770"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r := ParseDate(s)
		if r.Raw != s || r.Date.Text != s {
			t.Fatalf("%q is not kept as written", s)
		}
		if r.Date.EDTF == "" {
			if len(r.Flags) == 0 {
				t.Fatalf("%q has no reading and no flag", s)
			}
			return
		}
		if _, err := ParseEDTF(r.Date.EDTF); err != nil {
			t.Fatalf("%q is read as %q, which is not in the format", s, r.Date.EDTF)
		}
	})
}

// German as the standard orthography writes dates (DIN 5008 for days in words).
func TestDateWordsInGerman(t *testing.T) {
	for edtf, want := range map[string]string{"1911~": "um 1911", "[..1922]": "vor 1923", "1911/1912": "1911–12", "1939-05-05": "5. Mai 1939",
		"17XX": "18. Jahrhundert", "192X": "1920er Jahre", "1998-03": "März 1998", "2001-21": "Frühling 2001", "../1920": "bis 1920", "1985/..": "ab 1985",
		"1667?": "1667?", "[1667,1668]": "1667 oder 1668", "17XX/18XX": "18.–19. Jahrhundert", "-0043": "44 v. Chr."} {
		if got := DateWordsIn(say.German, edtf); got != want {
			t.Errorf("%s is %q, want %q", edtf, got, want)
		}
	}
}
