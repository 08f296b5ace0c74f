"""What GDAL and numpy say, for the scripts that measure against them: one JSON question a line, one JSON answer a line."""

import json
import math
import sys
import time

import numpy
from osgeo import gdal, osr

gdal.UseExceptions()
gdal.SetConfigOption("GDAL_PAM_ENABLED", "NO")
held = {}


class Blocks:
    """Blocks of one band, each read once."""

    def __init__(self, path):
        self.dataset = gdal.Open(path)
        self.band = self.dataset.GetRasterBand(1)
        self.wide, self.high = self.band.GetBlockSize()
        self.across = -(-self.band.XSize // self.wide)
        self.read = {}

    def block(self, key):
        if key not in self.read:
            x, y = (key % self.across) * self.wide, (key // self.across) * self.high
            self.read[key] = self.band.ReadAsArray(
                x, y, min(self.wide, self.band.XSize - x), min(self.high, self.band.YSize - y)
            )
        return self.read[key]

    def values(self, columns, rows):
        keys = (rows // self.high) * self.across + columns // self.wide
        order = numpy.argsort(keys, kind="stable")
        found, starts = numpy.unique(keys[order], return_index=True)
        out = numpy.empty(len(keys))
        for key, places in zip(found, numpy.split(order, starts[1:])):
            out[places] = self.block(int(key))[rows[places] % self.high, columns[places] % self.wide]
        return out

    def bilinear(self, xs, ys):
        """Bilinear between cell centres; x and y in the raster's own system."""
        x0, dx, _, y0, _, dy = self.dataset.GetGeoTransform()
        columns = (xs - x0) / dx - 0.5
        rows = (ys - y0) / dy - 0.5
        c = numpy.floor(columns).astype(int)
        r = numpy.floor(rows).astype(int)
        u, v = columns - c, rows - r
        right = numpy.minimum(c + 1, self.band.XSize - 1)
        down = numpy.minimum(r + 1, self.band.YSize - 1)
        upper = self.values(c, r) * (1 - u) + self.values(right, r) * u
        lower = self.values(c, down) * (1 - u) + self.values(right, down) * u
        return upper * (1 - v) + lower * v


def points(question):
    held["lons"] = numpy.array(question["lons"])
    held["lats"] = numpy.array(question["lats"])
    return {}


def cold(question):
    start = time.perf_counter()
    held["blocks"] = Blocks(question["path"])
    heights = held["blocks"].bilinear(held["lons"], held["lats"])
    return {"ms": (time.perf_counter() - start) * 1000, "sum": float(heights.sum())}


def warm(_):
    start = time.perf_counter()
    heights = held["blocks"].bilinear(held["lons"], held["lats"])
    return {"ms": (time.perf_counter() - start) * 1000, "sum": float(heights.sum())}


def heights(question):
    """Bilinear heights at places in degrees, in the band's unit with scale and offset, null where a corner is void."""
    blocks = Blocks(question["path"])
    xs, ys = numpy.array(question["lons"]), numpy.array(question["lats"])
    system = osr.SpatialReference(wkt=blocks.dataset.GetProjection())
    if system.IsProjected():
        degrees = osr.SpatialReference()
        degrees.ImportFromEPSG(4326)
        degrees.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
        system.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
        turned = numpy.array(osr.CoordinateTransformation(degrees, system).TransformPoints(numpy.c_[xs, ys]))
        xs, ys = turned[:, 0], turned[:, 1]
    void = blocks.band.GetNoDataValue()
    if void is not None:
        for key in range(blocks.across * -(-blocks.band.YSize // blocks.high)):
            block = blocks.block(key).astype(float)
            block[block == void] = math.nan
            blocks.read[key] = block
    found = blocks.bilinear(xs, ys) * (blocks.band.GetScale() or 1) + (blocks.band.GetOffset() or 0)
    return {"heights": [None if math.isnan(height) else height for height in found.tolist()]}


def plain(array):
    """Numbers row by row, null where they are none."""
    return [value if math.isfinite(value) else None for value in array.astype(float).ravel().tolist()]


def finite(values):
    return [value if value is None or math.isfinite(value) else None for value in values]


def whole(band):
    """All values of a band; null in blocks that cannot be read."""
    try:
        return plain(band.ReadAsArray())
    except Exception:
        values = numpy.full((band.YSize, band.XSize), math.nan)
        wide, high = band.GetBlockSize()
        for y in range(0, band.YSize, high):
            for x in range(0, band.XSize, wide):
                w, h = min(wide, band.XSize - x), min(high, band.YSize - y)
                try:
                    values[y : y + h, x : x + w] = band.ReadAsArray(x, y, w, h)
                except Exception:
                    continue
        return plain(values)


def dump(question):
    """Every value of small rasters, with place and system; an error is an answer too."""
    answers = []
    for path in question["paths"]:
        try:
            dataset = gdal.Open(path)
            band = dataset.GetRasterBand(1)
            if band.XSize * band.YSize > 4_000_000:
                raise ValueError(f"{band.XSize} x {band.YSize} is too large to compare")
            system = osr.SpatialReference(wkt=dataset.GetProjection())
            answers.append(
                {
                    "values": whole(band),
                    "place": finite(dataset.GetGeoTransform(can_return_null=True) or []),
                    "width": band.XSize,
                    "height": band.YSize,
                    "scale": finite([band.GetScale()])[0],
                    "offset": finite([band.GetOffset()])[0],
                    "code": system.GetAuthorityCode("PROJCS" if system.IsProjected() else "GEOGCS"),
                }
            )
        except Exception as error:  # whatever GDAL makes of a damaged file
            answers.append({"error": str(error)})
    return {"answers": answers}


TYPES = {
    "i16": gdal.GDT_Int16,
    "u16": gdal.GDT_UInt16,
    "i32": gdal.GDT_Int32,
    "u32": gdal.GDT_UInt32,
    "f32": gdal.GDT_Float32,
    "f64": gdal.GDT_Float64,
}
PREDICTED = ("LZW", "DEFLATE", "ZSTD")


def make(question):
    """A corner of a tile in every way that GDAL can write it: the paths, and what could not be written."""
    made, left = [], []
    source = gdal.Open(question["source"])
    for kind, code in TYPES.items():
        for packing in ("NONE", "PACKBITS", "LERC", "LERC_DEFLATE", "LERC_ZSTD") + PREDICTED:
            predictors = (1,) if packing not in PREDICTED else (1, 2, 3) if kind[0] == "f" else (1, 2)
            for predictor in predictors:
                for tiled in ("YES", "NO"):
                    for order in ("LITTLE", "BIG"):
                        name = f"{kind}-{packing}-{predictor}-{'tiles' if tiled == 'YES' else 'strips'}-{order}"
                        options = [f"COMPRESS={packing}", f"TILED={tiled}", f"ENDIANNESS={order}"]
                        options += [f"PREDICTOR={predictor}"] if packing in PREDICTED else []
                        options += ["BLOCKXSIZE=64", "BLOCKYSIZE=48"] if tiled == "YES" else ["BLOCKYSIZE=19"]
                        options += ["BIGTIFF=YES"] if predictor == 1 and tiled == "YES" else []
                        path = f"{question['folder']}/{name}.tif"
                        try:
                            gdal.Translate(
                                path,
                                source,
                                format="GTiff",
                                outputType=code,
                                srcWin=question.get("window", [400, 500, 150, 110]),
                                creationOptions=options,
                                scaleParams=[[0, 1000, 0, 1000 if kind[0] != "f" else 1003.7]],
                            )
                            made.append(path)
                        except Exception as error:
                            left.append(f"{name}: {error}")
    return {"made": made, "left": left}


gdal.PushErrorHandler("CPLQuietErrorHandler")
ASKED = {"points": points, "cold": cold, "warm": warm, "heights": heights, "dump": dump, "make": make}
print(json.dumps({"name": f"GDAL {gdal.__version__}, numpy {numpy.__version__}"}), flush=True)
for line in sys.stdin:
    question = json.loads(line)
    print(json.dumps(ASKED[question["ask"]](question)), flush=True)
