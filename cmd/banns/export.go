package main

type exportCmd struct {
	Name string `arg:"" help:"Name of a stored wedding."`
}

// Run writes the stored plan with its id, its version and every key.
func (c *exportCmd) Run(e *env) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	doc, err := e.stored(s, c.Name)
	if err != nil {
		return err
	}
	text, err := doc.Text()
	if err != nil {
		return err
	}
	_, err = e.out.Write(text)
	return err
}
