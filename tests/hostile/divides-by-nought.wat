;; Divides by nought.
;; says: `define` broke off (
;; says: it divides by nought
(module
  (memory (export "memory") 1)
  (func (export "cabi_realloc") (param i32 i32 i32 i32) (result i32)
    (i32.const 4096))
  (func (export "pairwise:ground/ground@0.1.0#about") (result i32)
    (i32.const 2048))
  (func (export "pairwise:ground/ground@0.1.0#define") (param i32 i32) (result i32)
    (drop (i32.div_u (i32.const 1) (i32.const 0)))
    (i32.const 3072))
  ;; Texts.
  (data (i32.const 1024) "divides-by-nought")
  (data (i32.const 1041) "A hostile ground")
  (data (i32.const 1057) "hostile")
  (data (i32.const 1064) "invented for the tests")
  (data (i32.const 1086) "plain")
  (data (i32.const 1091) "Plain")
  (data (i32.const 1096) "pin")
  ;; What `about` answers.
  (data (i32.const 2048)
    "\00\04\00\00\11\00\00\00" ;; id
    "\11\04\00\00\10\00\00\00" ;; title
    "\00\00\00\00" ;; kind: a ground
    "\21\04\00\00\07\00\00\00" ;; family
    "\00\00\00\00\00\00\00\00" ;; other names
    "\00\00\00\00\00\00\00\00" ;; laces
    "\00\00\00\00\00\00\00\00\00\00\00\00" ;; sits in no other
    "\00\00\00\00\00\80\46\40" ;; angle: 45 degrees
    "\00\00\00\00\00\00\00\00" ;; notes
    "\28\04\00\00\16\00\00\00" ;; source
    "\00\00\00\00\00\00\00\00" ;; choices
    "\80\08\00\00\01\00\00\00") ;; varieties
  ;; Its one variety: id, title; no other names, settings, notes, source.
  (data (i32.const 2176) "\3e\04\00\00\05\00\00\00"
    "\43\04\00\00\05\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00")
  ;; What `define` answers: the repeat of torchon, one stitch and two legs.
  (data (i32.const 3072) "\00\00\00\00\00\00\00\00" ;; a repeat, not a problem
    "\00\00\00\00\00\00\f0\3f" "\00\00\00\00\00\00\f0\3f" ;; across
    "\00\00\00\00\00\00\f0\bf" "\00\00\00\00\00\00\f0\3f" ;; down
    "\40\0c\00\00\01\00\00\00" ;; stitches
    "\80\0c\00\00\02\00\00\00") ;; legs
  (data (i32.const 3136) "\48\04\00\00\03\00\00\00" ;; name of the stitch
    "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" ;; no place
    "\c0\0c\00\00\05\00\00\00") ;; its work
  (data (i32.const 3200) "\00\00\00\00\00\00\00\00" "\00\00\00\00\01\00\00\00" "\00\00\00\00" "\01\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3228) "\00\00\00\00\01\00\00\00" "\00\00\00\00\00\00\00\00" "\01\00\00\00" "\00\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3264) "\00\01\06\00\01")) ;; cross, twist, pin, cross, twist
