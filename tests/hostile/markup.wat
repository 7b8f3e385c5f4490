;; Texts that would be live in a page.
;; taken: markup
(module
  (memory (export "memory") 1)
  (func (export "cabi_realloc") (param i32 i32 i32 i32) (result i32)
    (i32.const 4096))
  (func (export "pairwise:ground/ground@0.1.0#about") (result i32)
    (i32.const 2048))
  (func (export "pairwise:ground/ground@0.1.0#define") (param i32 i32) (result i32)
    (i32.const 3072))
  ;; Texts.
  (data (i32.const 1024) "markup")
  (data (i32.const 1030) "<script>document.title=\22caught\22</script>")
  (data (i32.const 1070) "hostile")
  (data (i32.const 1077) "</p><img src=x onerror=\22document.title='caught'\22><svg onload=\22document.title='caught'\22></svg><a href=\22javascript:document.title='caught'\22>a</a> {{ 7 * 7 }} {% raw %} &lt;script&gt; ]]> --> <base href=\22https://example.org/\22><style>@import \22https://example.org/x.css\22;</style><meta http-equiv=refresh content=\220;url=caught.html\22><iframe srcdoc=\22<script>parent.document.title=1</script>\22></iframe>")
  (data (i32.const 1471) "\22><script>location=\22caught.html\22</script>")
  (data (i32.const 1512) "plain")
  (data (i32.const 1517) "pin")
  (data (i32.const 1520) "en")
  (data (i32.const 1522) "c")
  ;; What `about` answers.
  (data (i32.const 2048)
    "\00\04\00\00\06\00\00\00" ;; id
    "\06\04\00\00\28\00\00\00" ;; title
    "\00\00\00\00" ;; kind: a ground
    "\2e\04\00\00\07\00\00\00" ;; family
    "\08\09\00\00\01\00\00\00" ;; other names
    "\00\09\00\00\01\00\00\00" ;; laces
    "\00\00\00\00\00\00\00\00\00\00\00\00" ;; sits in no other
    "\00\00\00\00\00\80\46\40" ;; angle: 45 degrees
    "\35\04\00\00\8a\01\00\00" ;; notes
    "\bf\05\00\00\29\00\00\00" ;; source
    "\20\09\00\00\01\00\00\00" ;; choices
    "\80\08\00\00\01\00\00\00") ;; varieties
  ;; Its one variety: id, title; no other names, settings, notes, source.
  (data (i32.const 2176) "\e8\05\00\00\05\00\00\00"
    "\06\04\00\00\28\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00")
  ;; The same title for a lace, for another name and for a choice.
  (data (i32.const 2304) "\06\04\00\00\28\00\00\00"
    "\f0\05\00\00\02\00\00\00" "\06\04\00\00\28\00\00\00" "\bf\05\00\00\29\00\00\00"
    "\f2\05\00\00\01\00\00\00" "\06\04\00\00\28\00\00\00" "\01\00\00\00\00\00\00\00\09\00\00\00" "\01\00\00\00\00\00\00\00\00\00\00\00")
  ;; What `define` answers: the repeat of torchon, one stitch and two legs.
  (data (i32.const 3072) "\00\00\00\00\00\00\00\00" ;; a repeat, not a problem
    "\00\00\00\00\00\00\f0\3f" "\00\00\00\00\00\00\f0\3f" ;; across
    "\00\00\00\00\00\00\f0\bf" "\00\00\00\00\00\00\f0\3f" ;; down
    "\40\0c\00\00\01\00\00\00" ;; stitches
    "\80\0c\00\00\02\00\00\00") ;; legs
  (data (i32.const 3136) "\ed\05\00\00\03\00\00\00" ;; name of the stitch
    "\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00\00" ;; no place
    "\c0\0c\00\00\05\00\00\00") ;; its work
  (data (i32.const 3200) "\00\00\00\00\00\00\00\00" "\00\00\00\00\01\00\00\00" "\00\00\00\00" "\01\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3228) "\00\00\00\00\01\00\00\00" "\00\00\00\00\00\00\00\00" "\01\00\00\00" "\00\00\00\00" "\00\00\00\00") ;; from, to, cell, twists
  (data (i32.const 3264) "\00\01\06\00\01")) ;; cross, twist, pin, cross, twist
