;; Marks that turn the direction of writing and characters that cannot be
;; seen, in all texts.
;; taken: turns-the-writing
(module
  (memory (export "memory") 1)
  (func (export "cabi_realloc") (param i32 i32 i32 i32) (result i32)
    (i32.const 4096))
  (func (export "pairwise:ground/ground@0.1.0#about") (result i32)
    (i32.const 2048))
  (func (export "pairwise:ground/ground@0.1.0#define") (param i32 i32) (result i32)
    (i32.const 3072))
  ;; Texts.
  (data (i32.const 1024) "turns-the-writing")
  (data (i32.const 1041) "\e2\80\aeesor\e2\80\ac \e2\81\a6\e2\80\8bround\e2\81\a9\ef\bb\bf")
  (data (i32.const 1069) "hostile")
  (data (i32.const 1076) "\e2\80\ae\e2\81\a7\e2\80\8f\d8\9c mirrored \f3\a0\81\81\f3\a0\81\82")
  (data (i32.const 1105) "a\e2\80\a8b\e2\80\a9c\c2\85d")
  (data (i32.const 1117) "plain")
  (data (i32.const 1122) "pin")
  (data (i32.const 1125) "en")
  (data (i32.const 1127) "c")
  ;; What `about` answers.
  (data (i32.const 2048)
    "\00\04\00\00\11\00\00\00" ;; id
    "\11\04\00\00\1c\00\00\00" ;; title
    "\00\00\00\00" ;; kind: a ground
    "\2d\04\00\00\07\00\00\00" ;; family
    "\08\09\00\00\01\00\00\00" ;; other names
    "\00\09\00\00\01\00\00\00" ;; laces
    "\00\00\00\00\00\00\00\00\00\00\00\00" ;; sits in no other
    "\00\00\00\00\00\80\46\40" ;; angle: 45 degrees
    "\34\04\00\00\1d\00\00\00" ;; notes
    "\51\04\00\00\0c\00\00\00" ;; source
    "\20\09\00\00\01\00\00\00" ;; choices
    "\80\08\00\00\01\00\00\00") ;; varieties
  ;; Its one variety: id, title; no other names, settings, notes, source.
  (data (i32.const 2176) "\5d\04\00\00\05\00\00\00"
    "\11\04\00\00\1c\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00")
  ;; The same title for a lace, for another name and for a choice.
  (data (i32.const 2304) "\11\04\00\00\1c\00\00\00"
    "\65\04\00\00\02\00\00\00" "\11\04\00\00\1c\00\00\00" "\51\04\00\00\0c\00\00\00"
    "\67\04\00\00\01\00\00\00" "\11\04\00\00\1c\00\00\00" "\01\00\00\00\00\00\00\00\09\00\00\00" "\01\00\00\00\00\00\00\00\00\00\00\00")
  ;; What `define` answers: the repeat of torchon, one stitch and two legs.
  (data (i32.const 3072) "\00\00\00\00\00\00\00\00" ;; a repeat, not a problem
    "\00\00\00\00\00\00\f0\3f" "\00\00\00\00\00\00\f0\3f" ;; across
    "\00\00\00\00\00\00\f0\bf" "\00\00\00\00\00\00\f0\3f" ;; down
    "\40\0c\00\00\01\00\00\00" ;; stitches
    "\80\0c\00\00\02\00\00\00") ;; legs
  (data (i32.const 3136) "\62\04\00\00\03\00\00\00" ;; name of the stitch
    "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" ;; no place
    "\c0\0c\00\00\05\00\00\00") ;; its work
  (data (i32.const 3200) "\00\00\00\00\00\00\00\00" "\00\00\00\00\01\00\00\00" "\00\00\00\00" "\01\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3228) "\00\00\00\00\01\00\00\00" "\00\00\00\00\00\00\00\00" "\01\00\00\00" "\00\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3264) "\00\01\06\00\01")) ;; cross, twist, pin, cross, twist
