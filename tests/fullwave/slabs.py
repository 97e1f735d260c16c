#!/usr/bin/python3
"""Transmission through slabs and a layered wall by FDTD (Meep), against the program.

One dimension across the wall; a plane wave at an angle by the phase that it has along the faces. Flux behind the wall
over flux without it, at 868 MHz. Permittivity and conductivity of ITU-R P.2040-3. usage: slabs.py PROGRAM
"""
import math
import sys

import meep

from comparison import Verdict, ask

LIGHT = 299792458.0
FREE_SPACE_OHM = 376.730313668
FREQUENCY_HZ = 868e6
WAVE = FREQUENCY_HZ / LIGHT  # cycles a metre
GHZ = FREQUENCY_HZ / 1e9
MATERIALS = {  # relative permittivity, conductivity in S/m
    "concrete": (5.24, 0.0462 * GHZ**0.7822),
    "brick": (3.91, 0.0238 * GHZ**0.16),
    "glass": (6.31, 0.0036 * GHZ**1.3394),
    "air": (1.0, 0.0),
}
PML_M = 1.0
AIR_M = 0.5  # on either side of the wall


def wall(layers, pixel_m):
    """Blocks from z = 0, shifted by half a pixel: conductivity is sampled at the nodes, and a face on a node
    would count one node too many or too few."""
    blocks, z = [], pixel_m / 2
    for material, thickness_mm in layers:
        permittivity, conductivity = MATERIALS[material]
        thickness_m = thickness_mm / 1000
        blocks.append(meep.Block(
            size=meep.Vector3(meep.inf, meep.inf, thickness_m), center=meep.Vector3(0, 0, z + thickness_m / 2),
            material=meep.Medium(epsilon=permittivity, D_conductivity=conductivity * FREE_SPACE_OHM / permittivity)))
        z += thickness_m
    return blocks


def flux(blocks, depth_m, angle_deg, polarisation, pixels_per_m):
    """Power through a plane behind the wall."""
    behind_m = math.ceil(10 * depth_m) / 10 + AIR_M
    before_m = AIR_M
    length = before_m + behind_m + 2 * PML_M
    middle = (behind_m - before_m) / 2
    shifted = [meep.Block(size=b.size, center=b.center - meep.Vector3(0, 0, middle), material=b.material) for b in blocks]
    along = WAVE * math.sin(math.radians(angle_deg))
    field = meep.Ey if polarisation == "te" else meep.Ex
    simulation = meep.Simulation(
        cell_size=meep.Vector3(0, 0, length), dimensions=1 if angle_deg == 0 else 3, resolution=pixels_per_m,
        boundary_layers=[meep.PML(PML_M, direction=meep.Z)], geometry=shifted, k_point=meep.Vector3(along, 0, 0),
        force_complex_fields=angle_deg != 0,
        sources=[meep.Source(meep.GaussianSource(WAVE, fwidth=0.15 * WAVE),
                             component=meep.Ex if angle_deg == 0 else field,
                             center=meep.Vector3(0, 0, -length / 2 + PML_M + 0.1))])
    where = meep.Vector3(0, 0, length / 2 - PML_M - 0.1)
    monitor = simulation.add_flux(WAVE, 0, 1, meep.FluxRegion(center=where))
    simulation.run(until_after_sources=meep.stop_when_fields_decayed(
        10, meep.Ex if angle_deg == 0 else field, where, 1e-7))
    return meep.get_fluxes(monitor)[0]


def gain_db(layers, angle_deg, polarisation, pixels_per_m):
    depth_m = sum(thickness for _, thickness in layers) / 1000
    free = flux([], depth_m, angle_deg, polarisation, pixels_per_m)
    return 10 * math.log10(flux(wall(layers, 1 / pixels_per_m), depth_m, angle_deg, polarisation, pixels_per_m) / free)


# layers, angle, polarisation, pixels a metre, limit in dB
ROWS = [
    ([("brick", 240)], 0, "te", 400, 0.1),
    ([("concrete", 200)], 60, "tm", 400, 0.1),
    ([("brick", 100), ("air", 50), ("brick", 100)], 30, "te", 400, 0.1),
    ([("glass", 300)], 60, "te", 200, 0.2),  # the tabled row that lies farthest off ...
    ([("glass", 300)], 60, "te", 800, 0.1),  # ... comes nearer with smaller pixels
]


def main():
    meep.verbosity(0)
    texts = ["/".join(f"{material}:{thickness}" for material, thickness in layers) for layers, *_ in ROWS]
    answers = ask(sys.argv[1], [["slab", text, FREQUENCY_HZ, angle, way]
                                for text, (_, angle, way, _, _) in zip(texts, ROWS)])
    verdict = Verdict()
    for text, answer, (layers, angle, way, pixels, limit) in zip(texts, answers, ROWS):
        verdict.compare(f"{text} mm, {angle} degrees, {way}, {pixels} px/m", answer,
                        gain_db(layers, angle, way, pixels), limit)
    verdict.finish()


if __name__ == "__main__":
    main()
