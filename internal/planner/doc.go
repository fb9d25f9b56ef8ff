// Package planner packs what the tank-load planner in the browser needs: the
// products, the judgement that Go has reached on statements, notices and jars, the
// order of addition, and the words of all of them.
package planner
