"""What draws on the graphics card: many triangles or many lines in one call each, sent again only where they changed.

Lines are drawn as narrow triangles, because many cards draw no wide lines. Needs OpenGL 2.1 or its small sister.
"""

from __future__ import annotations

import ctypes
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from OpenGL import GL
from OpenGL.GL import shaders
from pyqtgraph.opengl.GLGraphicsItem import GLGraphicsItem

from workbench.bench.space.dress import FACE, Packed, Records

Mode = Literal["solid", "lines", "seen_through"]

_PRECISION = """
#ifdef GL_ES
precision mediump float;
#endif
"""
_COLOURED = f"""{_PRECISION}
varying vec4 v_colour;
void main() {{ gl_FragColor = v_colour; }}
"""
_FACE_CORNERS = """
uniform mat4 u_view;
uniform mat4 u_projection;
attribute vec3 at;
attribute vec4 colour;
varying vec4 v_colour;
void main() {
    v_colour = colour;
    gl_Position = u_projection * (u_view * vec4(at, 1.0));
}
"""
# The end is moved aside by half the width in pixels, and past itself, so that ends that meet close. What lies behind
# the near plane is cut off first: its place on the screen would be upside down. The pull brings the line nearer
# along the ray, so that it lies on the faces it borders and not in them; its place on the screen stays.
_LINE_CORNERS = """
uniform mat4 u_view;
uniform mat4 u_projection;
uniform vec2 u_half;
uniform float u_near;
uniform float u_pull;
uniform float u_scale;
attribute vec3 here;
attribute vec3 there;
attribute float side;
attribute float weight;
attribute vec4 colour;
varying vec4 v_colour;
void main() {
    vec4 own = u_view * vec4(here, 1.0);
    vec4 other = u_view * vec4(there, 1.0);
    float limit = -u_near * 1.01;
    if (own.z > limit && other.z < limit) own = mix(other, own, (limit - other.z) / (own.z - other.z));
    else if (other.z > limit && own.z < limit) other = mix(own, other, (limit - own.z) / (other.z - own.z));
    own.xyz *= u_pull;
    other.xyz *= u_pull;
    vec4 a = u_projection * own;
    vec4 b = u_projection * other;
    vec2 along = (b.xy / b.w - a.xy / a.w) * u_half;
    float size = length(along);
    along = size > 0.0001 ? along / size : vec2(1.0, 0.0);
    vec2 shift = (vec2(-along.y, along.x) * side - along) * 0.5 * weight * u_scale;
    a.xy += shift / u_half * a.w;
    v_colour = colour;
    gl_Position = a;
}
"""


@dataclass(frozen=True)
class Look:
    """How the items see the scene in this frame.

    Attributes:
        view: Space to eye, 4 by 4.
        projection: Eye to clip space, 4 by 4.
        half: Half the width and height in device pixels.
        near: Distance of the near plane.
        scale: Device pixels a pixel.
        generation: Number of the graphics context; what was sent to an older one is gone.
        programs: Shader programs of this context.
    """

    view: np.ndarray[Any, Any]
    projection: np.ndarray[Any, Any]
    half: tuple[float, float]
    near: float
    scale: float
    generation: int
    programs: Programs


class Programs:
    """The shader programs of one graphics context, which has to be current."""

    def __init__(self) -> None:
        self.faces = _program(_FACE_CORNERS)
        self.lines = _program(_LINE_CORNERS)


class Batch(GLGraphicsItem):
    """Triangles or lines drawn in one call.

    Args:
        kind: ``FACE`` or ``LINE``.
        mode: ``solid`` faces; ``lines`` on them; or only what is covered, ``seen_through`` the cover.
        pull: How much nearer than the faces lines are taken to be, as a share of their distance.
    """

    def __init__(self, kind: np.dtype[np.void], mode: Mode, pull: float = 0.0) -> None:
        super().__init__()
        self._packed = Packed(kind)
        self._mode: Mode = mode
        self._kind = kind
        self._pull = pull
        self._buffer, self._generation = 0, -1
        self._unsent: list[slice] | None = None
        self.look: Look | None = None

    @property
    def size(self) -> int:
        """How many corners it draws."""
        return len(self._packed.data)

    def put(self, parts: Sequence[Records]) -> None:
        """Draw these records from now on; only what differs is sent."""
        changed = self._packed.put(parts)
        if changed is None:
            self._unsent = None
        elif self._unsent is not None:
            self._unsent += changed
        self.update()

    def paint(self) -> None:
        """Draw; the context is current."""
        look = self.look
        if look is None:
            return
        self._send(look)
        if not self.size:
            return
        _set_state(self._mode, self._kind == FACE)
        program = look.programs.faces if self._kind == FACE else look.programs.lines
        GL.glUseProgram(program)
        _set_uniforms(program, look, self._pull)
        GL.glBindBuffer(GL.GL_ARRAY_BUFFER, self._buffer)
        places = _bind_attributes(program, self._kind)
        GL.glDrawArrays(GL.GL_TRIANGLES, 0, self.size)
        for place in places:
            GL.glDisableVertexAttribArray(place)
        GL.glBindBuffer(GL.GL_ARRAY_BUFFER, 0)
        GL.glUseProgram(0)
        GL.glDepthMask(GL.GL_TRUE)
        GL.glDepthFunc(GL.GL_LEQUAL)

    def _send(self, look: Look) -> None:
        if self._generation != look.generation:
            self._buffer, self._generation, self._unsent = int(GL.glGenBuffers(1)), look.generation, None
        if self._unsent == []:
            return
        data = self._packed.data
        GL.glBindBuffer(GL.GL_ARRAY_BUFFER, self._buffer)
        if self._unsent is None:
            GL.glBufferData(GL.GL_ARRAY_BUFFER, data.nbytes, data.tobytes(), GL.GL_DYNAMIC_DRAW)
        else:
            for part in self._unsent:
                chunk = data[part].tobytes()
                GL.glBufferSubData(GL.GL_ARRAY_BUFFER, part.start * self._kind.itemsize, len(chunk), chunk)
        GL.glBindBuffer(GL.GL_ARRAY_BUFFER, 0)
        self._unsent = []


def _set_state(mode: Mode, faces: bool) -> None:
    GL.glEnable(GL.GL_DEPTH_TEST)
    GL.glDepthFunc({"solid": GL.GL_LESS, "lines": GL.GL_LEQUAL, "seen_through": GL.GL_GREATER}[mode])
    GL.glDepthMask(GL.GL_TRUE if mode == "solid" else GL.GL_FALSE)
    (GL.glDisable if mode == "solid" else GL.glEnable)(GL.GL_BLEND)
    GL.glBlendFunc(GL.GL_SRC_ALPHA, GL.GL_ONE_MINUS_SRC_ALPHA)
    # Lines have no back; faces show their front only.
    (GL.glEnable if faces else GL.glDisable)(GL.GL_CULL_FACE)


def _set_uniforms(program: int, look: Look, pull: float) -> None:
    def place(name: str) -> int:
        return int(GL.glGetUniformLocation(program, name))

    for name, matrix in (("u_view", look.view), ("u_projection", look.projection)):
        GL.glUniformMatrix4fv(place(name), 1, GL.GL_FALSE, np.ascontiguousarray(matrix.T, dtype=np.float32))
    if place("u_half") >= 0:
        GL.glUniform2f(place("u_half"), *look.half)
        GL.glUniform1f(place("u_near"), look.near)
        GL.glUniform1f(place("u_pull"), 1.0 - pull)
        GL.glUniform1f(place("u_scale"), look.scale)


def _bind_attributes(program: int, kind: np.dtype[np.void]) -> list[int]:
    places: list[int] = []
    for name in kind.names or ():
        place = int(GL.glGetAttribLocation(program, name))
        field, start = kind.fields[name][:2] if kind.fields else (kind, 0)
        count = field.shape[0] if field.shape else 1
        colour = field.base == np.uint8
        GL.glEnableVertexAttribArray(place)
        GL.glVertexAttribPointer(
            place,
            count,
            GL.GL_UNSIGNED_BYTE if colour else GL.GL_FLOAT,
            GL.GL_TRUE if colour else GL.GL_FALSE,
            kind.itemsize,
            ctypes.c_void_p(start),
        )
        places.append(place)
    return places


def _program(corners: str) -> int:
    return int(
        shaders.compileProgram(
            shaders.compileShader(corners, GL.GL_VERTEX_SHADER),
            shaders.compileShader(_COLOURED, GL.GL_FRAGMENT_SHADER),
            validate=False,
        )
    )
