;; Is made for a version of the interface that never was.
;; says: is made for version 0.0.1 of the interface
(component
  (instance $nothing)
  (export "pairwise:ground/ground@0.0.1" (instance $nothing)))
