// Package lesson teaches the words of the trade: one text, in the numbers of the
// reader's own ticket, told on a terminal or as a page for a browser. Its pictures
// are drawn twice, in letters and in lines, under one name.
package lesson
