package materials

// generate is for problems with too many patterns to list. (written next)
func (s *solver) generate(bound int64) int64 { return bound }

// tidy gathers the offcuts.
func (sol *cutSolution) tidy(p *cutProblem) {}
