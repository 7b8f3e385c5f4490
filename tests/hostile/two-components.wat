;; Holds more components than can be needed.
;; says: it has more than 16 modules and components
(component
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component)
  (component))
