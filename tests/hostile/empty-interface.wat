;; Carries the name of the interface and nothing behind it.
;; says: exports `pairwise:ground/ground@0.2.0`, but not with its types
(component
  (instance $nothing)
  (export "pairwise:ground/ground@0.1.0" (instance $nothing)))
