;; Wants memory from outside.
;; says: wants to import `env memory`
(module
  (import "env" "memory" (memory 1)))
