package command

func story(p *page) error { return nil }
