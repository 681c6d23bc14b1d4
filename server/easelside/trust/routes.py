"""What does the screen Phones show of the way in, and how is it opened and shut from there?"""

import io
import json

import flask
import segno
from werkzeug.wrappers import Response

from easelside.errors import Malformed, SwitchElsewhere
from easelside.trust.model import Facts
from easelside.trust.rules import in_groups
from easelside.trust.words import SHORT_GROUPS
from easelside.units import write_instant
from easelside.web.body import read_json
from easelside.web.doors import OWN, WayIn, door_of


def blueprint(way: WayIn) -> flask.Blueprint:
    """/api/way_in: read by every paired device, switched only at the machine itself."""
    routes = flask.Blueprint("way_in", __name__, url_prefix="/api")

    @routes.get("/way_in")
    def shown() -> Response:
        return _json(_standing(way))

    @routes.put("/way_in")
    def switched() -> Response:
        if door_of(flask.request.environ) != OWN:
            raise SwitchElsewhere
        said = read_json(flask.request.get_data())
        if not isinstance(said, dict) or not isinstance(said.get("on"), bool):
            raise Malformed(detail="on has to be true or false")
        way.switch(said["on"])
        return _json(_standing(way))

    return routes


def _standing(way: WayIn) -> dict[str, object]:
    """`begins`: where a new phone begins, each with its square (SVG); empty with one's own certificate."""
    facts = way.facts()
    return {
        "on": way.on,
        "address": way.address,
        "authority": facts and facts.authority,
        "fingerprint": in_groups(facts.fingerprint, SHORT_GROUPS) if facts and facts.fingerprint else None,
        "ends": write_instant(facts.ends) if facts and facts.ends else None,
        "begins": _begins(facts) if facts else [],
    }


def _begins(facts: Facts) -> list[dict[str, str]]:
    """By address first: what does not trust yet may not resolve the name either."""
    if facts.trust_port is None:
        return []
    links = [f"http://{host}:{facts.trust_port}/trust" for host in (*facts.addresses, facts.name)]
    return [{"address": link, "square": _drawn(link)} for link in links]


def _drawn(link: str) -> str:
    """A QR code (ISO/IEC 18004) as SVG."""
    out = io.BytesIO()
    square = segno.make(link, error="m", micro=False)
    square.save(out, kind="svg", xmldecl=False, svgclass=None, lineclass=None, omitsize=True, border=3)
    return out.getvalue().decode().strip()


def _json(body: object) -> Response:
    return Response(json.dumps(body), content_type="application/json")
