package notes_test
import ("testing";"fmt";"hemline/lang/emit/notes")
func TestZZ(t *testing.T){
 for i,c := range cases { fmt.Printf("#%d %s\n   WITH %q\n   OLD %q\n   NEW %q\n   WITHOUT %q\n", i, c.topic, c.with, c.want, about(notes.Make(read(c.with), notes.Figures{}), c.topic), about(notes.Make(read(c.without), notes.Figures{}), c.topic)) }
}
