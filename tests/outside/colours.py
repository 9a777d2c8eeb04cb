"""What an independent library makes of random pairs of colours.

colour-science 0.4.7 (PyPI) gives CIE Lab, OKLab, CIEDE2000 and the matrices of Machado, Oliveira
and Fernandes 2009; of Brettel, Vienot and Mollon 1997 the plain numbers for sRGB are written here
once more. A pair a line, so that the tests can compare:

    colours.py SEED COUNT > colours.csv
    colours.py --self-test
"""

import random
import sys
import warnings

# It warns of what it could do with other libraries.
warnings.simplefilter("ignore")
import colour  # noqa: E402
import numpy  # noqa: E402

# Four equal decimals need the same white: D65 as most software rounds it.
WHITE = numpy.array([0.95047, 1.0, 1.08883])
WHITE_XY = colour.XYZ_to_xy(WHITE)
MACHADO = {
    name: numpy.array(colour.blindness.CVD_MATRICES_MACHADO2010[kind][1.0])
    for name, kind in (("protan", "Protanomaly"), ("deutan", "Deuteranomaly"))
}
BRETTEL_NORMAL = numpy.array([0.03901, -0.02788, -0.01113])
BRETTEL = (
    numpy.array([[0.93678, 0.18979, -0.12657], [0.06154, 0.81526, 0.12320], [-0.37562, 1.12767, 0.24796]]),
    numpy.array([[1.01277, 0.13548, -0.14826], [-0.01243, 0.86812, 0.14431], [0.07589, 0.80500, 0.11911]]),
)
COLUMNS = "one other normal protan deutan tritan grey contrast".split()


def linear(rgb):
    return colour.cctf_decoding(numpy.array(rgb) / 255, function="sRGB")


def seen(light, view):
    """Linear light as somebody sees it."""
    if view == "normal":
        return light
    if view == "tritan":
        matrix = BRETTEL[int(BRETTEL_NORMAL @ light >= 0)]
    else:
        matrix = MACHADO[view]
    return numpy.clip(matrix @ light, 0, 1)


def lab(light):
    # The matrix of IEC 61966-2-1 from the primaries and the white above, unrounded.
    space = colour.RGB_COLOURSPACES["sRGB"]
    matrix = colour.normalised_primary_matrix(space.primaries, WHITE_XY)
    return colour.XYZ_to_Lab(matrix @ light, WHITE_XY)


def compared(one, other):
    lights = linear(one), linear(other)
    numbers = []
    for view in ("normal", "protan", "deutan", "tritan"):
        labs = [lab(seen(light, view)) for light in lights]
        numbers.append(float(colour.delta_E(*labs, method="CIE 2000")))
    numbers.append(abs(float(lab(lights[0])[0] - lab(lights[1])[0])))
    # WCAG 2.1, relative luminance.
    low, high = sorted(float(light @ numpy.array([0.2126, 0.7152, 0.0722])) for light in lights)
    numbers.append((high + 0.05) / (low + 0.05))
    return numbers


def lines(seed, count):
    dice = random.Random(seed)
    yield ",".join(COLUMNS)
    for number in range(count):
        one = [dice.randrange(256) for _ in range(3)]
        # Half the pairs are near each other, as the colours that matter are.
        near = [min(255, max(0, byte + dice.randrange(-40, 41))) for byte in one]
        other = near if number % 2 else [dice.randrange(256) for _ in range(3)]
        names = ["#" + "".join(f"{byte:02X}" for byte in rgb) for rgb in (one, other)]
        yield ",".join(names + [f"{value:.4f}" for value in compared(one, other)])


def self_test():
    """Published values, and that a wrong view is seen to be wrong."""
    wrong = []

    def near(what, got, expected, slack=1e-4):
        if abs(got - expected) > slack:
            wrong.append(f"{what}: {got}, not {expected}")

    # Sharma, Wu and Dalal 2005, pairs 1 and 17.
    table = [
        ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
        ((50, 2.5, 0), (73, 25, -18), 27.1492),
    ]
    for one, other, expected in table:
        near("CIEDE2000", float(colour.delta_E(one, other, method="CIE 2000")), expected)
    # Black and white, by definition; Lindbloom's L* of sRGB red and green is 53.2408 and 87.7347.
    black_white = compared([0, 0, 0], [255, 255, 255])
    near("L* of white", black_white[4], 100)
    near("contrast", black_white[5], 21)
    near("L* of red and green", compared([255, 0, 0], [0, 255, 0])[4], 87.7347 - 53.2408, 1e-3)
    # Greys stay grey, for everybody.
    for view in ("protan", "deutan", "tritan"):
        grey = seen(linear([119, 119, 119]), view)
        near(f"grey in {view}", float(grey.max() - grey.min()), 0, 1e-4)
    # Red and green differ much, and little without the cones for middle waves.
    numbers = dict(zip(COLUMNS[2:], compared([0xD6, 0x27, 0x28], [0x2C, 0xA0, 0x2C])))
    if not numbers["deutan"] < 5 < 20 < numbers["protan"] < numbers["normal"]:
        wrong.append(f"red and green: {numbers}")
    if list(lines(1, 2)) == list(lines(2, 2)):
        wrong.append("another seed gives the same pairs")
    print("\n".join(wrong) or "published values reproduced")
    return 1 if wrong else 0


def main(words):
    if words == ["--self-test"]:
        return self_test()
    seed, count = map(int, words)
    print("\n".join(lines(seed, count)))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
