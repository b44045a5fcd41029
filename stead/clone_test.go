package stead

import (
	"reflect"
	"testing"

	"evenstead/demo"
)

// TestCloneSharesNothing walks a description and its clone: the same content, no list
// in common, and no part of a kind that Clone does not know.
func TestCloneSharesNothing(t *testing.T) {
	st, err := Read("demo.toml", demo.Quernfold())
	if err != nil {
		t.Fatal(err)
	}
	c := st.Clone()
	if !reflect.DeepEqual(st, c) {
		t.Error("the clone differs")
	}
	lists := 0
	var apart func(path string, a, b reflect.Value)
	apart = func(path string, a, b reflect.Value) {
		switch a.Kind() {
		case reflect.Struct:
			for i := range a.NumField() {
				apart(path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
			}
		case reflect.Slice:
			lists++
			if a.Len() > 0 && a.Pointer() == b.Pointer() {
				t.Errorf("%s is shared", path)
			}
			for i := range a.Len() {
				apart(path, a.Index(i), b.Index(i))
			}
		case reflect.Map, reflect.Pointer, reflect.Func, reflect.Chan, reflect.Interface:
			t.Errorf("%s is a %s, which a clone shares", path, a.Kind())
		}
	}
	apart("Stead", reflect.ValueOf(*st), reflect.ValueOf(*c))
	if lists < 20 {
		t.Errorf("only %d lists were looked at", lists)
	}
}

func BenchmarkClone(b *testing.B) {
	st, err := Read("demo.toml", demo.Quernfold())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		st.Clone()
	}
}
