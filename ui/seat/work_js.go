package seat

// workFolder is none: a browser keeps the work itself.
func workFolder() string { return "" }
