;; Is made for a version of the interface that is yet to come.
;; says: is made for version 9.0.0 of the interface
(component
  (instance $nothing)
  (export "pairwise:ground/ground@9.0.0" (instance $nothing)))
