package store

func childMain() {}
