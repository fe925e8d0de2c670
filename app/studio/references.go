package studio

// references keeps prepared reference pulls, since preparing costs as much as
// measuring.
type references struct{}
