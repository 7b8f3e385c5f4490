;; Wants to know the time, as a component does.
;; says: wants to import `wasi:clocks/wall-clock@0.2.0`, but a contribution may import nothing at all
(component
  (import "wasi:clocks/wall-clock@0.2.0" (instance)))
