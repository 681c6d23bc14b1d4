"""Machines, their settings and what was measured over REST: read."""

from easelside.set_up.schemas import MachineSchema, ReadingSchema, SettingSchema
from easelside.web.blueprint import Blueprint
from easelside.web.records import Resource, publish


def blueprint() -> Blueprint:
    machines = Blueprint("set_up", __name__, url_prefix="/api", description="Machines and their settings")
    publish(machines, Resource("machine", "Machine", MachineSchema))
    publish(machines, Resource("setting", "Setting", SettingSchema))
    publish(machines, Resource("reading", "Reading", ReadingSchema))
    return machines
