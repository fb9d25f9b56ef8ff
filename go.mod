module tankleaf.example

go 1.26
