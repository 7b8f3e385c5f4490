;; Texts that would leave an attribute and make one of their own.
;; taken: attributes
(module
  (memory (export "memory") 1)
  (func (export "cabi_realloc") (param i32 i32 i32 i32) (result i32)
    (i32.const 4096))
  (func (export "pairwise:ground/ground@0.1.0#about") (result i32)
    (i32.const 2048))
  (func (export "pairwise:ground/ground@0.1.0#define") (param i32 i32) (result i32)
    (i32.const 3072))
  ;; Texts.
  (data (i32.const 1024) "attributes")
  (data (i32.const 1034) "\22 onload=\22document.title='caught'\22 x=\22' onerror='document.title=1' `")
  (data (i32.const 1102) "hostile")
  (data (i32.const 1109) "' autofocus onfocus='document.title=\22caught\22' \22 style=\22background:url(https://example.org/)\22")
  (data (i32.const 1201) "javascript:document.title=\22caught\22")
  (data (i32.const 1235) "plain")
  (data (i32.const 1240) "pin")
  (data (i32.const 1243) "en")
  (data (i32.const 1245) "c")
  ;; What `about` answers.
  (data (i32.const 2048)
    "\00\04\00\00\0a\00\00\00" ;; id
    "\0a\04\00\00\44\00\00\00" ;; title
    "\00\00\00\00" ;; kind: a ground
    "\4e\04\00\00\07\00\00\00" ;; family
    "\08\09\00\00\01\00\00\00" ;; other names
    "\00\09\00\00\01\00\00\00" ;; laces
    "\00\00\00\00\00\00\00\00\00\00\00\00" ;; sits in no other
    "\00\00\00\00\00\80\46\40" ;; angle: 45 degrees
    "\55\04\00\00\5c\00\00\00" ;; notes
    "\b1\04\00\00\22\00\00\00" ;; source
    "\20\09\00\00\01\00\00\00" ;; choices
    "\80\08\00\00\01\00\00\00") ;; varieties
  ;; Its one variety: id, title; no other names, settings, notes, source.
  (data (i32.const 2176) "\d3\04\00\00\05\00\00\00"
    "\0a\04\00\00\44\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00")
  ;; The same title for a lace, for another name and for a choice.
  (data (i32.const 2304) "\0a\04\00\00\44\00\00\00"
    "\db\04\00\00\02\00\00\00" "\0a\04\00\00\44\00\00\00" "\b1\04\00\00\22\00\00\00"
    "\dd\04\00\00\01\00\00\00" "\0a\04\00\00\44\00\00\00" "\01\00\00\00\00\00\00\00\09\00\00\00" "\01\00\00\00\00\00\00\00\00\00\00\00")
  ;; What `define` answers: the repeat of torchon, one stitch and two legs.
  (data (i32.const 3072) "\00\00\00\00\00\00\00\00" ;; a repeat, not a problem
    "\00\00\00\00\00\00\f0\3f" "\00\00\00\00\00\00\f0\3f" ;; across
    "\00\00\00\00\00\00\f0\bf" "\00\00\00\00\00\00\f0\3f" ;; down
    "\40\0c\00\00\01\00\00\00" ;; stitches
    "\80\0c\00\00\02\00\00\00") ;; legs
  (data (i32.const 3136) "\d8\04\00\00\03\00\00\00" ;; name of the stitch
    "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" ;; no place
    "\c0\0c\00\00\05\00\00\00") ;; its work
  (data (i32.const 3200) "\00\00\00\00\00\00\00\00" "\00\00\00\00\01\00\00\00" "\00\00\00\00" "\01\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3228) "\00\00\00\00\01\00\00\00" "\00\00\00\00\00\00\00\00" "\01\00\00\00" "\00\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3264) "\00\01\06\00\01")) ;; cross, twist, pin, cross, twist
