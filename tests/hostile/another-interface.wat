;; Is WebAssembly, but no contribution.
;; says: does not export `pairwise:ground/ground@0.2.0`
(component
  (instance $nothing)
  (export "other:thing/thing@0.1.0" (instance $nothing)))
