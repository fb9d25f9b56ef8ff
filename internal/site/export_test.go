package site

// LimitCopies has editions kept whole up to so many files, until restore.
func LimitCopies(files int) (restore func()) {
	old := mostCopyFiles
	mostCopyFiles = files
	return func() { mostCopyFiles = old }
}
