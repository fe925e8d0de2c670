package finish

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"regexp"
	"sort"
	"strconv"

	"pullbook/pdfout/jpegfile"
)

var deviceSpace = regexp.MustCompile(`/ColorSpace /Device\w+`)

// placePictures puts the real files where stubs stand, and renumbers picture
// objects by their order in the document: gofpdf's order among pictures of one
// width depends on chance. It returns the new numbers.
func (s *source) placePictures(o Options) (map[int]int, error) {
	type slot struct{ num, order int }
	var slots []slot
	for num := range s.objects {
		obj := s.objects[num]
		if !obj.stored || !bytes.Contains(obj.dict, []byte("/Subtype /Image")) {
			continue
		}
		name, ok := jpegfile.StubName(obj.stream)
		n, err := strconv.Atoi(name)
		if !ok || err != nil || n >= len(o.Pictures) {
			return nil, fmt.Errorf("a picture is no stub")
		}
		slots = append(slots, slot{num, n})
	}
	sort.Slice(slots, func(i, j int) bool { return slots[i].order < slots[j].order })
	var nums []int
	for _, sl := range slots {
		nums = append(nums, sl.num)
		if err := s.placePicture(s.objects[sl.num], o.Pictures[sl.order], o); err != nil {
			return nil, err
		}
	}
	sort.Ints(nums)
	renumber := map[int]int{}
	for i, sl := range slots {
		renumber[sl.num] = nums[i]
	}
	return renumber, nil
}

// placePicture puts one file in place of its stub, with its colour profile;
// files without one are taken as sRGB.
func (s *source) placePicture(obj *object, pic Picture, o Options) error {
	info := pic.Info
	obj.picture, obj.size, obj.stream, obj.keep = pic.Path, info.Bytes, nil, true
	d := bytes.Replace(obj.dict, []byte("/Decode [1 0 1 0 1 0 1 0]\n"), nil, 1)
	if info.Components == 4 && info.Adobe {
		d = bytes.Replace(d, []byte("/BitsPerComponent"), []byte("/Decode [1 0 1 0 1 0 1 0]\n/BitsPerComponent"), 1)
	}
	icc := info.ICC
	if icc == nil && info.Components == 3 {
		icc = SRGB()
	}
	if icc == nil && info.Components == 4 && o.Archive {
		return fmt.Errorf("the picture %s is in printing inks without a colour profile, which an archive file must not hold; save it as RGB", pic.Path)
	}
	if icc != nil {
		n := s.profile(icc, info.Components)
		d = deviceSpace.ReplaceAll(d, fmt.Appendf(nil, "/ColorSpace [/ICCBased %d 0 R]", n))
	}
	obj.dict = d
	return nil
}

// profile returns the object number of a colour profile, each stored once.
func (s *source) profile(icc []byte, components int) int {
	sum := sha256.Sum256(icc)
	if n, ok := s.profiles[sum]; ok {
		return n
	}
	alternate := map[int]string{1: "DeviceGray", 3: "DeviceRGB", 4: "DeviceCMYK"}[components]
	n := s.add(&object{dict: fmt.Appendf(nil, "<</N %d /Alternate /%s>>", components, alternate), stream: icc, stored: true})
	s.profiles[sum] = n
	return n
}
