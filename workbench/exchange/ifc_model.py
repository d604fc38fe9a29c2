"""The few entities of a building model that a roof needs, written through the library without clock or chance."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np

from workbench.framing.solids import Floats
from workbench.roof.model import Point2, Point3

Value = str | int | float | bool
Axes = tuple[Point3, Point3, Point3]
"""Origin, x axis, z axis."""

PROGRAM = "Roof Workbench"
WORLD: Axes = ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))

_NAMES = uuid.UUID("6d6f1f0c-6a7e-5a0b-9a55-0d3c7c1be6f1")
_SQ_M_PER_SQ_IN = 0.00064516
_M_PER_IN = 0.0254
_PRECISION_IN = 1e-5
_DIGITS = 6


class IfcModel:
    """One file being written.

    The library has no types: it enters here as Any and leaves as bytes.
    """

    def __init__(self, library: Any, guid: Any) -> None:
        """Begin an empty IFC 4 file with inches as its unit of length."""
        self._file: Any = library.file(schema="IFC4")
        self._guid = guid
        self._context: Any = None
        self._body: Any = None

    def finish(self) -> bytes:
        """The file's bytes."""
        head: Any = self._file.header.file_name
        # Without a clock: the same plan gives the same bytes. The job's own date stands in its property set.
        head.time_stamp = "1970-01-01T00:00:00"
        head.preprocessor_version = PROGRAM
        head.originating_system = PROGRAM
        return str(self._file.to_string()).encode("ascii")

    # What holds everything

    def project(self, name: str, description: str | None) -> Any:
        """The project, its units and the context that shapes stand in."""
        new = self._file.create_entity
        self._context = new(
            "IfcGeometricRepresentationContext",
            ContextType="Model",
            CoordinateSpaceDimension=3,
            Precision=_PRECISION_IN,
            WorldCoordinateSystem=self._axes(WORLD),
        )
        self._body = new(
            "IfcGeometricRepresentationSubContext",
            ContextIdentifier="Body",
            ContextType="Model",
            ParentContext=self._context,
            TargetView="MODEL_VIEW",
        )
        return new(
            "IfcProject",
            GlobalId=self._id("project"),
            Name=name,
            Description=description,
            RepresentationContexts=[self._context],
            UnitsInContext=new("IfcUnitAssignment", Units=self._units()),
        )

    def spatial(self, kind: str, key: str, name: str, inside: Any) -> Any:
        """A site or a building."""
        return self._file.create_entity(
            kind,
            GlobalId=self._id(key),
            Name=name,
            ObjectPlacement=self._placement(inside, WORLD),
            CompositionType="ELEMENT",
        )

    def element(self, kind: str, key: str, name: str, inside: Any, *, tag: str, at: Axes = WORLD) -> Any:
        """A part of the building, placed in what holds it; ``key`` is unique in the job."""
        return self._file.create_entity(
            kind, GlobalId=self._id(key), Name=name, Tag=tag, ObjectPlacement=self._placement(inside, at)
        )

    def gather(self, whole: Any, parts: Sequence[Any]) -> None:
        """Say that something is made up of parts."""
        self._file.create_entity(
            "IfcRelAggregates",
            GlobalId=self._id(f"parts of {whole.GlobalId}"),
            RelatingObject=whole,
            RelatedObjects=list(parts),
        )

    def contain(self, building: Any, elements: Sequence[Any]) -> None:
        """Say that elements stand in a building."""
        self._file.create_entity(
            "IfcRelContainedInSpatialStructure",
            GlobalId=self._id(f"elements in {building.GlobalId}"),
            RelatedElements=list(elements),
            RelatingStructure=building,
        )

    # Property sets and types

    def describe(self, element: Any, name: str, values: Mapping[str, Value]) -> None:
        """Give an element a property set."""
        found = self._property_set(element.GlobalId, name, values)
        self._file.create_entity(
            "IfcRelDefinesByProperties",
            GlobalId=self._id(f"{name} to {element.GlobalId}"),
            RelatedObjects=[element],
            RelatingPropertyDefinition=found,
        )

    def member_type(self, key: str, name: str, predefined: str) -> Any:
        """What all members of one mark are."""
        return self._file.create_entity("IfcMemberType", GlobalId=self._id(key), Name=name, PredefinedType=predefined)

    def describe_type(self, kind: Any, name: str, values: Mapping[str, Value]) -> None:
        """Give a type a property set."""
        kind.HasPropertySets = [self._property_set(kind.GlobalId, name, values)]

    def is_of_type(self, kind: Any, elements: Sequence[Any]) -> None:
        """Say which elements are of a type."""
        self._file.create_entity(
            "IfcRelDefinesByType",
            GlobalId=self._id(f"of type {kind.GlobalId}"),
            RelatedObjects=list(elements),
            RelatingType=kind,
        )

    # Shapes

    def show(self, element: Any, item: Any, *, mapped: bool = False) -> None:
        """Give an element its shape."""
        surface = item.is_a("IfcFaceBasedSurfaceModel")
        kind = "MappedRepresentation" if mapped else "SurfaceModel" if surface else "SweptSolid"
        element.Representation = self._file.create_entity(
            "IfcProductDefinitionShape", Representations=[self._representation(kind, item)]
        )

    def mapped(self, kind: Any, item: Any) -> Any:
        """Give a type its shape; answers what copies are made from."""
        source = self._file.create_entity(
            "IfcRepresentationMap",
            MappingOrigin=self._axes(WORLD),
            MappedRepresentation=self._representation("Tessellation", item),
        )
        kind.RepresentationMaps = [source]
        return source

    def copy_of(self, source: Any) -> Any:
        """A type's shape once more."""
        new = self._file.create_entity
        stay = new("IfcCartesianTransformationOperator3D", LocalOrigin=self._point((0.0, 0.0, 0.0)))
        return new("IfcMappedItem", MappingSource=source, MappingTarget=stay)

    def surface(self, rings: Sequence[Sequence[Point3]]) -> Any:
        """A flat face in space, its outline first, then its holes."""
        new = self._file.create_entity
        bounds: list[Any] = []
        for i, ring in enumerate(rings):
            loop = new("IfcPolyLoop", Polygon=[self._point(corner) for corner in ring])
            bounds.append(new("IfcFaceOuterBound" if i == 0 else "IfcFaceBound", Bound=loop, Orientation=True))
        faces = new("IfcConnectedFaceSet", CfsFaces=[new("IfcFace", Bounds=bounds)])
        return new("IfcFaceBasedSurfaceModel", FbsmFaces=[faces])

    def mesh(self, triangles: Floats) -> Any:
        """A closed body of triangles, (n, 3, 3), inches."""
        corners = np.round(triangles.reshape(-1, 3), _DIGITS) + 0.0  # no negative zeros
        points, index = np.unique(corners, axis=0, return_inverse=True)
        faces = index.reshape(-1, 3) + 1
        kept = [[int(a), int(b), int(c)] for a, b, c in faces if len({int(a), int(b), int(c)}) == 3]
        listed = self._file.create_entity(
            "IfcCartesianPointList3D", CoordList=[[float(x) for x in point] for point in points]
        )
        return self._file.create_entity("IfcTriangulatedFaceSet", Coordinates=listed, Closed=True, CoordIndex=kept)

    def slab_of(self, ring: Sequence[Point2], thickness: float) -> Any:
        """A flat shape given thickness, upward from its own plane."""
        new = self._file.create_entity
        points = [new("IfcCartesianPoint", Coordinates=(float(x), float(y))) for x, y in ring]
        outline = new("IfcPolyline", Points=[*points, points[0]])
        return new(
            "IfcExtrudedAreaSolid",
            SweptArea=new("IfcArbitraryClosedProfileDef", ProfileType="AREA", OuterCurve=outline),
            Position=self._axes(WORLD),
            ExtrudedDirection=self._direction((0.0, 0.0, 1.0)),
            Depth=thickness,
        )

    # Small change

    def _representation(self, kind: str, item: Any) -> Any:
        return self._file.create_entity(
            "IfcShapeRepresentation",
            ContextOfItems=self._body,
            RepresentationIdentifier="Body",
            RepresentationType=kind,
            Items=[item],
        )

    def _property_set(self, owner: str, name: str, values: Mapping[str, Value]) -> Any:
        new = self._file.create_entity
        found = [
            new("IfcPropertySingleValue", Name=word, NominalValue=self._value(value)) for word, value in values.items()
        ]
        return new("IfcPropertySet", GlobalId=self._id(f"{name} of {owner}"), Name=name, HasProperties=found)

    def _value(self, value: Value) -> Any:
        match value:
            case bool():
                return self._file.create_entity("IfcBoolean", value)
            case int():
                return self._file.create_entity("IfcInteger", value)
            case float():
                return self._file.create_entity("IfcReal", value)
            case str():
                return self._file.create_entity("IfcText", value)

    def _placement(self, inside: Any, at: Axes) -> Any:
        above = None if inside is None else inside.ObjectPlacement
        return self._file.create_entity("IfcLocalPlacement", PlacementRelTo=above, RelativePlacement=self._axes(at))

    def _axes(self, at: Axes) -> Any:
        origin, x, z = at
        return self._file.create_entity(
            "IfcAxis2Placement3D",
            Location=self._point(origin),
            Axis=self._direction(z),
            RefDirection=self._direction(x),
        )

    def _point(self, at: Iterable[float]) -> Any:
        return self._file.create_entity("IfcCartesianPoint", Coordinates=tuple(float(x) for x in at))

    def _direction(self, ratios: Iterable[float]) -> Any:
        return self._file.create_entity("IfcDirection", DirectionRatios=tuple(float(x) for x in ratios))

    def _id(self, key: str) -> str:
        """A global id that is the same whenever the same thing is written."""
        return str(self._guid.compress(uuid.uuid5(_NAMES, key).hex))

    def _units(self) -> list[Any]:
        new = self._file.create_entity
        metre = new("IfcSIUnit", UnitType="LENGTHUNIT", Name="METRE")
        square = new("IfcSIUnit", UnitType="AREAUNIT", Name="SQUARE_METRE")
        inch = self._converted("LENGTHUNIT", "INCH", metre, "IfcLengthMeasure", _M_PER_IN, 1)
        area = self._converted("AREAUNIT", "SQUARE INCH", square, "IfcAreaMeasure", _SQ_M_PER_SQ_IN, 2)
        return [inch, area, new("IfcSIUnit", UnitType="PLANEANGLEUNIT", Name="RADIAN")]

    def _converted(self, kind: str, name: str, base: Any, measure: str, factor: float, power: int) -> Any:
        new = self._file.create_entity
        dimensions = new("IfcDimensionalExponents", power, 0, 0, 0, 0, 0, 0)
        ratio = new("IfcMeasureWithUnit", ValueComponent=new(measure, factor), UnitComponent=base)
        return new("IfcConversionBasedUnit", Dimensions=dimensions, UnitType=kind, Name=name, ConversionFactor=ratio)
