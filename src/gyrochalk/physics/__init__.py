"""The equations of the instruments as compiled kernels: bare floats, SI units and radians, status codes.

Frames: navigation NED (north, east, down), body FRD (nose, right wing, down). Which equation lives where:
`motion` the flight, `earth` rotation and field, `iron` the aircraft's magnetism, `card` the direct compass, `gyro` the
two gimbals, `detector` the pendulum and its plane, `loop` the slaving law, `rosenbrock` and `advance` the integrator,
`card_flight`, `gyro_flight`, `slaved_flight` one whole flight of each instrument. Signs and symbols:
`docs/physics.md`, `docs/nomenclature.md`.
"""
