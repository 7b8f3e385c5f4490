;; Texts that would steer a terminal: colours, the title of the window, a line
;; written over, a bell, and the same in single characters.
;; taken: escapes
(module
  (memory (export "memory") 1)
  (func (export "cabi_realloc") (param i32 i32 i32 i32) (result i32)
    (i32.const 4096))
  (func (export "pairwise:ground/ground@0.1.0#about") (result i32)
    (i32.const 2048))
  (func (export "pairwise:ground/ground@0.1.0#define") (param i32 i32) (result i32)
    (i32.const 3072))
  ;; Texts.
  (data (i32.const 1024) "escapes")
  (data (i32.const 1031) "\1b[31mRed\1b[0m \1b]0;owned\07 \c2\9b31m \c2\8d")
  (data (i32.const 1063) "hostile")
  (data (i32.const 1070) "over\0dwritten\08\08 \1b[2J\1b[H \7f \00 end")
  (data (i32.const 1100) "\1b]8;;https://example.org\1b\5ca link\1b]8;;\1b\5c")
  (data (i32.const 1139) "plain")
  (data (i32.const 1144) "pin")
  (data (i32.const 1147) "en")
  (data (i32.const 1149) "c")
  ;; What `about` answers.
  (data (i32.const 2048)
    "\00\04\00\00\07\00\00\00" ;; id
    "\07\04\00\00\20\00\00\00" ;; title
    "\00\00\00\00" ;; kind: a ground
    "\27\04\00\00\07\00\00\00" ;; family
    "\08\09\00\00\01\00\00\00" ;; other names
    "\00\09\00\00\01\00\00\00" ;; laces
    "\00\00\00\00\00\00\00\00\00\00\00\00" ;; sits in no other
    "\00\00\00\00\00\80\46\40" ;; angle: 45 degrees
    "\2e\04\00\00\1e\00\00\00" ;; notes
    "\4c\04\00\00\27\00\00\00" ;; source
    "\20\09\00\00\01\00\00\00" ;; choices
    "\80\08\00\00\01\00\00\00") ;; varieties
  ;; Its one variety: id, title; no other names, settings, notes, source.
  (data (i32.const 2176) "\73\04\00\00\05\00\00\00"
    "\07\04\00\00\20\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00")
  ;; The same title for a lace, for another name and for a choice.
  (data (i32.const 2304) "\07\04\00\00\20\00\00\00"
    "\7b\04\00\00\02\00\00\00" "\07\04\00\00\20\00\00\00" "\4c\04\00\00\27\00\00\00"
    "\7d\04\00\00\01\00\00\00" "\07\04\00\00\20\00\00\00" "\01\00\00\00\00\00\00\00\09\00\00\00" "\01\00\00\00\00\00\00\00\00\00\00\00")
  ;; What `define` answers: the repeat of torchon, one stitch and two legs.
  (data (i32.const 3072) "\00\00\00\00\00\00\00\00" ;; a repeat, not a problem
    "\00\00\00\00\00\00\f0\3f" "\00\00\00\00\00\00\f0\3f" ;; across
    "\00\00\00\00\00\00\f0\bf" "\00\00\00\00\00\00\f0\3f" ;; down
    "\40\0c\00\00\01\00\00\00" ;; stitches
    "\80\0c\00\00\02\00\00\00") ;; legs
  (data (i32.const 3136) "\78\04\00\00\03\00\00\00" ;; name of the stitch
    "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" ;; no place
    "\c0\0c\00\00\05\00\00\00") ;; its work
  (data (i32.const 3200) "\00\00\00\00\00\00\00\00" "\00\00\00\00\01\00\00\00" "\00\00\00\00" "\01\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3228) "\00\00\00\00\01\00\00\00" "\00\00\00\00\00\00\00\00" "\01\00\00\00" "\00\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3264) "\00\01\06\00\01")) ;; cross, twist, pin, cross, twist
