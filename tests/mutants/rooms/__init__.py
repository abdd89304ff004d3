"""The table, a module a room."""

from tests.mutants.rooms import audits, encoders, load, prescription, shared

ROOMS = {
    "encoders": encoders.FAULTS,
    "audits": audits.FAULTS,
    "shared": shared.FAULTS,
    "prescription": prescription.FAULTS,
    "load": load.FAULTS,
}
