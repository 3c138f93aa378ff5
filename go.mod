module rimheat

go 1.26
