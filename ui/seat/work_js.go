package seat

// workFolder is none: a browser keeps the work itself.
func workFolder() string { return "" }

// wish has nothing to ask: the page has said it (see screen.Page).
func (s *Seat) wish() {}
