package notation

import "fmt"

// Day is a day of the proleptic Gregorian calendar. Year 0 is 1 BC.
type Day struct {
	Year  int64
	Month int
	Day   int
}

// String returns yyyy-mm-dd; years before 0 have a minus sign.
func (d Day) String() string {
	if d.Year < 0 {
		return fmt.Sprintf("-%04d-%02d-%02d", -d.Year, d.Month, d.Day)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// Before reports whether d is earlier than e.
func (d Day) Before(e Day) bool {
	if d.Year != e.Year {
		return d.Year < e.Year
	}
	if d.Month != e.Month {
		return d.Month < e.Month
	}
	return d.Day < e.Day
}

// leap reports whether a Gregorian year has 366 days.
func leap(year int64) bool {
	return year%4 == 0 && (year%100 != 0 || year%400 == 0)
}

// daysIn returns the length of a month.
func daysIn(year int64, month int) int {
	switch month {
	case 2:
		if leap(year) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}
