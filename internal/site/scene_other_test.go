//go:build !linux

package site_test

const sceneName = "TANKLEAF_TEST_SCENE"

func play(string) { panic("scenes are for Linux") }
