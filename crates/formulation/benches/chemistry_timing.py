"""How long an independent library takes for the pH of the mixture of the bench
`chemistry`: sodium benzoate 0.5 %, potassium sorbate 0.3 %, citric acid 0.2 %,
disodium EDTA 0.1 %, sodium hydroxide 0.05 %, sodium chloride 1 %.

    pip install phreeqc==1.1.1 pHcalc==0.2.0 numpy
    python crates/formulation/benches/chemistry_timing.py
    cargo bench -p formulation --bench chemistry

Prints pH and the median time of a solve in process. The constants are those of
formulation::chemistry::acids; the activity model of IPHREEQC is Davies.
"""
import statistics
import time

import numpy

if not hasattr(numpy, "cumproduct"):  # pHcalc 0.2.0 calls a name that NumPy 2 dropped
    numpy.cumproduct = numpy.cumprod
import phreeqc
from pHcalc.pHcalc import Acid, Inert, System

# mol per kg of water, as in the bench
BENZOIC, SORBIC, CITRIC, EDTA = 0.0354, 0.0204, 0.0106, 0.003
SODIUM, POTASSIUM, CHLORIDE = 0.0354 + 0.006 + 0.0128 + 0.1747, 0.0204, 0.1747

# element, charge of the fully protonated form, pKa of each step
FAMILIES = [
    ("Ben", 0, [4.20], BENZOIC),
    ("Sor", 0, [4.76], SORBIC),
    ("Cit", 0, [3.13, 4.76, 6.40], CITRIC),
    ("Edt", 1, [1.50, 2.16, 3.119, 6.273, 10.948], EDTA),
]


def species(element, charge, hydrogens):
    count = "" if hydrogens < 2 else str(hydrogens)
    sign = "+" if charge > 0 else "-"
    size = "" if abs(charge) < 2 else str(abs(charge))
    ending = "" if charge == 0 else sign + size
    return ("H" + count if hydrogens else "") + element + ending


def database():
    masters = [
        "H H+ -1 H 1.008", "H(0) H2 0 H", "H(1) H+ -1 0", "E e- 1 0 0",
        "O H2O 0 O 15.999", "O(0) O2 0 O", "O(-2) H2O 0 0",
        "Na Na+ 0 Na 22.99", "K K+ 0 K 39.098", "Cl Cl- 0 Cl 35.45",
    ]
    reactions = []
    for ion in ("H+", "e-", "H2O", "Na+", "K+", "Cl-"):
        reactions += [f"{ion} = {ion}", " log_k 0"]
    reactions += [
        "H2O = OH- + H+", " log_k -14.0",
        "2 H2O = O2 + 4 H+ + 4 e-", " log_k -86.08",
        "2 H+ + 2 e- = H2", " log_k -3.15",
    ]
    for element, top, constants, _ in FAMILIES:
        bare = species(element, top - len(constants), 0)
        masters.append(f"{element} {bare} 0 100 100")
        reactions += [f"{bare} = {bare}", " log_k 0"]
        total = 0.0
        for n in range(1, len(constants) + 1):
            total += constants[len(constants) - n]
            form = species(element, top - len(constants) + n, n)
            factor = "" if n == 1 else f"{n} "
            reactions += [f"{bare} + {factor}H+ = {form}", f" log_k {total}"]
            if top - len(constants) + n == 0:
                reactions.append(" -gamma 0 0")
    return "\n".join(
        ["SOLUTION_MASTER_SPECIES", *masters, "SOLUTION_SPECIES", *reactions, "END", ""]
    )


def median_us(solve, repeats=500):
    for _ in range(10):
        solve()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        solve()
        times.append(time.perf_counter() - start)
    return 1e6 * statistics.median(times)


engine = phreeqc.Phreeqc()
if engine.LoadDatabaseString(database()):
    raise SystemExit(engine.GetErrorString())
mixture = "\n".join(
    ["SOLUTION 1", " temp 25", " pH 7 charge", " units mol/kgw", " -water 1"]
    + [f" {element} {total}" for element, _, _, total in FAMILIES]
    + [f" Na {SODIUM}", f" K {POTASSIUM}", f" Cl {CHLORIDE}"]
)
output = (
    "\nSELECTED_OUTPUT 1\n -reset false\n -high_precision true\n"
    "USER_PUNCH 1\n -headings pH\n -start\n10 PUNCH -LA(\"H+\")\n -end\n"
)
if engine.RunString(mixture + output + "END\n"):
    raise SystemExit(engine.GetErrorString())
ph = engine.GetSelectedOutput()["pH"][-1]
print(f"IPHREEQC {engine.GetVersionString()}: pH {ph:.6f}, "
      f"{median_us(lambda: engine.RunString(mixture + chr(10) + 'END')):.1f} µs")


def ideal():
    parts = [Acid(pKa=list(k), charge=top, conc=c) for _, top, k, c in FAMILIES]
    parts += [Inert(charge=1, conc=SODIUM + POTASSIUM), Inert(charge=-1, conc=CHLORIDE)]
    system = System(*parts)
    system.pHsolve(guess_est=True)
    return system.pH


print(f"pHcalc 0.2.0, ideal: pH {float(ideal()):.6f}, {median_us(ideal, 50):.0f} µs")
