"""The table, a module a room."""

from tests.mutants.rooms import (
    audits,
    cli,
    encoders,
    language,
    load,
    prescription,
    render,
    shared,
    solve,
    store,
    weeks,
)

ROOMS = {
    "encoders": encoders.FAULTS,
    "audits": audits.FAULTS,
    "shared": shared.FAULTS,
    "prescription": prescription.FAULTS,
    "load": load.FAULTS,
    "language": language.FAULTS,
    "solve": solve.FAULTS,
    "weeks": weeks.FAULTS,
    "render": render.FAULTS,
    "store": store.FAULTS,
    "cli": cli.FAULTS,
}
