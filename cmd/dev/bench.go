package main

type benchVerb struct{}

// Run measures in one go, so that figures of one run can be compared.
func (v *benchVerb) Run() error {
	return inOrder(
		part{"tools", installTools},
		part{"build", (&buildVerb{NoGenerate: true}).Run},
		part{"fold", func() error { return run(nil, "go", "test", "-run", "-", "-bench", ".", "-benchmem", "./sync/job") }},
		part{"browser", func() error { return browserTests("-run", "TestMeasure", "-v", "-args", "-measure") }},
	)
}

type shotsVerb struct{}

// Run drives the app through a job and keeps pictures of it.
func (v *shotsVerb) Run() error {
	return inOrder(
		part{"tools", installTools},
		part{"pictures", func() error { return browserTests("-run", "TestPictures", "-v", "-args", "-shots") }},
	)
}
