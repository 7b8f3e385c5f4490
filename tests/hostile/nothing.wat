;; A module without anything in it.
;; says: is not a contribution this program can run
(module)
