"""Writes tests/reference/chemistry/ph_suspension.csv: pH of suspensions by PHREEQC.

Needs the package phreeqc 1.1.1 (IPHREEQC 3.8.6, U.S. Geological Survey). Its data base is not
used: the one below holds the constants of formulation::chemistry::acids and ::solubility, so
that the two solvers are compared and not two tables of constants.

    python tests/reference/suspensions.py > tests/reference/chemistry/ph_suspension.csv
"""

import math

import phreeqc

# Element, charge of the fully protonated form, pKa, molar mass of the acid, g per kg dissolved.
ACIDS = {
    "citric_acid": ("Cit", [3.13, 4.76, 6.40], 192.124, None),
    "salicylic_acid": ("Sal", [2.97], 138.122, 2.1),
    "benzoic_acid": ("Ben", [4.20], 122.123, 3.4),
    "sorbic_acid": ("Sor", [4.76], 112.128, 1.9),
    "azelaic_acid": ("Aze", [4.55, 5.53], 188.22, 2.4),
}
CARBONIC = [6.352, 10.329]
# Carbon dioxide at one atmosphere, g/kg, and what the air holds in water, mol/kg.
CO2_G_PER_KG, CO2_MOLAR_MASS, CO2_OF_AIR = 1.5, 44.009, 1.42e-5
# Phase, molar mass, cation.
SOLIDS = {
    "magnesium_hydroxide": ("Brucite", 58.320, "Mg"),
    "calcium_hydroxide": ("Portlandite", 74.093, "Ca"),
    "zinc_oxide": ("Zincite", 81.38, "Zn"),
    "calcium_carbonate": ("Calcite", 100.087, "Ca"),
    "magnesium_carbonate": ("Hydromagnesite", 93.527, "Mg"),
    "zinc_carbonate": ("Smithsonite", 125.39, "Zn"),
    "zinc_carbonate_hydroxide": ("Hydrozincite", 109.792, "Zn"),
}
CARBONATES = [name for name in SOLIDS if "carbonate" in name]
SALTS = {
    "sodium_chloride": ({"Na": 1, "Cl": 1}, 58.443),
    "sodium_hydroxide": ({"Na": 1}, 39.997),
    "magnesium_chloride": ({"Mg": 1, "Cl": 2}, 95.211),
    "calcium_chloride": ({"Ca": 1, "Cl": 2}, 110.984),
    "sodium_bicarbonate": ({"Na": 1, "C": 1}, 84.007),
    "sodium_benzoate": ({"Na": 1, "Ben": 1}, 144.105),
    "sodium_salicylate": ({"Na": 1, "Sal": 1}, 160.10),
}


def uncharged(grams, molar_mass, pka):
    """Molality of the uncharged form where so much dissolves in all: u + sqrt(K u) = s."""
    k, s = 10**-pka, grams / molar_mass
    return ((math.sqrt(k + 4 * s) - math.sqrt(k)) / 2) ** 2


def data_base():
    elements = ["H H+ -1 H 1.008", "H(0) H2 0 H", "H(1) H+ -1 0", "E e- 0 0 0",
                "O H2O 0 O 15.999", "O(0) O2 0 O", "O(-2) H2O 0 0",
                "Na Na+ 0 Na 22.99", "Cl Cl- 0 Cl 35.45", "Mg Mg+2 0 Mg 24.305",
                "Ca Ca+2 0 Ca 40.078", "Zn Zn+2 0 Zn 65.38", "C CO3-2 2 CO3 12.011"]
    species = ["H+ = H+", "e- = e-", "H2O = H2O", "H2O = OH- + H+\n log_k -14.0",
               "2 H2O = O2 + 4 H+ + 4 e-\n log_k -86.08\n -gamma 0 0",
               "2 H+ + 2 e- = H2\n log_k -3.15\n -gamma 0 0",
               "Na+ = Na+", "Cl- = Cl-", "Mg+2 = Mg+2", "Ca+2 = Ca+2", "Zn+2 = Zn+2",
               "CO3-2 = CO3-2", f"CO3-2 + H+ = HCO3-\n log_k {CARBONIC[1]}",
               f"CO3-2 + 2 H+ = CO2 + H2O\n log_k {sum(CARBONIC)}\n -gamma 0 0"]
    phases = ["Brucite\n Mg(OH)2 + 2 H+ = Mg+2 + 2 H2O\n log_k 16.844",
              "Portlandite\n Ca(OH)2 + 2 H+ = Ca+2 + 2 H2O\n log_k 22.804",
              "Zincite\n ZnO + 2 H+ = Zn+2 + H2O\n log_k 11.334",
              "Calcite\n CaCO3 = CO3-2 + Ca+2\n log_k -8.48",
              # By the mole of the cation.
              "Hydromagnesite\n Mg(CO3)0.8(OH)0.4(H2O)0.8 + 0.4 H+"
              " = Mg+2 + 0.8 CO3-2 + 1.2 H2O\n log_k -1.7524",
              "Smithsonite\n ZnCO3 = CO3-2 + Zn+2\n log_k -10.0",
              "Hydrozincite\n Zn(OH)1.2(CO3)0.4 + 1.2 H+ = Zn+2 + 0.4 CO3-2 + 1.2 H2O\n"
              " log_k 1.92992",
              "CO2(g)\n CO2 = CO2\n log_k 0"]
    for element, pka, _, grams in ACIDS.values():
        n = len(pka)
        base = f"{element}-{n}" if n > 1 else f"{element}-"
        elements.append(f"{element} {base} 0 1 1")
        species.append(f"{base} = {base}")
        total = 0.0
        for j, step in enumerate(reversed(pka), 1):
            total += step
            left = n - j
            charge = "" if left == 0 else "-" if left == 1 else f"-{left}"
            protons = "H+" if j == 1 else f"{j} H+"
            h = "H" if j == 1 else f"H{j}"
            gamma = "\n -gamma 0 0" if left == 0 else ""
            species.append(f"{base} + {protons} = {h}{element}{charge}\n log_k {total}{gamma}")
    for name, (element, pka, molar_mass, grams) in ACIDS.items():
        if grams:
            h = "H" if len(pka) == 1 else f"H{len(pka)}"
            log_k = math.log10(uncharged(grams, molar_mass, pka[0]))
            phases.append(f"{name}\n {h}{element} = {h}{element}\n log_k {log_k:.9f}")
    return "\n".join(["SOLUTION_MASTER_SPECIES", *elements, "SOLUTION_SPECIES", *species,
                      "PHASES", *phases, "END", ""])


def per_kg(share, molar_mass, water):
    return 1000 * share / molar_mass / water


def ph(solver, ww, air):
    """pH and ionic strength of a suspension; the water of neutralisation counts here."""
    water = 100 - sum(ww.values())
    totals, phases = {}, []
    for name, share in ww.items():
        if name in SOLIDS:
            phase, molar_mass, _ = SOLIDS[name]
            phases.append(f" {phase} 0 {per_kg(share, molar_mass, water):.12g}")
        elif name in SALTS:
            atoms, molar_mass = SALTS[name]
            for atom, n in atoms.items():
                totals[atom] = totals.get(atom, 0) + n * per_kg(share, molar_mass, water)
        else:
            element, _, molar_mass, _ = ACIDS[name]
            totals[element] = totals.get(element, 0) + per_kg(share, molar_mass, water)
    for name, (element, _, _, grams) in ACIDS.items():
        if grams and element in totals:
            # All of it is in solution first and falls out down to its solubility.
            phases.append(f" {name} 0 0")
    if air:
        phases.append(f" CO2(g) {math.log10(CO2_OF_AIR):.12g} 1000")
    elif "C" in totals or any(name in ww for name in CARBONATES):
        most = uncharged(CO2_G_PER_KG, CO2_MOLAR_MASS, CARBONIC[0])
        phases.append(f" CO2(g) {math.log10(most):.12g} 0")
    text = ["SOLUTION 1", " units mol/kgw", " pH 7 charge", " pe 4"]
    text += [f" {atom} {m:.12g}" for atom, m in totals.items()]
    text += ["EQUILIBRIUM_PHASES 1", *phases] if phases else []
    text += ["KNOBS", " -convergence_tolerance 1e-12", "SELECTED_OUTPUT 1", " -reset false",
             " -high_precision true", " -pH true", " -ionic_strength true", "END", ""]
    solver.SetSelectedOutputStringOn(True)
    if solver.RunString("\n".join(text)):
        raise RuntimeError(f"{ww}: {solver.GetErrorString()}")
    last = solver.GetSelectedOutputString().strip().splitlines()[-1].split()
    return float(last[0]), float(last[1])


def cases():
    """What is mixed, % by mass, and whether the air stands over it."""
    citric = {0.1: 0.05, 2: 0.5, 30: 1}
    for name in SOLIDS:
        for share in [0.1, 2, 30]:
            yield {name: share}, False
            yield {name: share, "citric_acid": citric[share]}, False
            for salt in [0.5, 2]:
                yield {name: share, "sodium_chloride": salt}, False
            if name in CARBONATES:
                yield {name: share}, True
                yield {name: share, "sodium_chloride": 0.5}, True
                yield {name: share, "citric_acid": citric[share]}, True
                yield {name: share, "sodium_bicarbonate": 0.5}, False
                yield {name: share, "sodium_bicarbonate": 0.5}, True
    yield {"magnesium_hydroxide": 2, "magnesium_chloride": 1}, False
    yield {"calcium_hydroxide": 2, "calcium_chloride": 1}, False
    yield {"calcium_carbonate": 2, "calcium_chloride": 1}, False
    yield {"calcium_carbonate": 2, "calcium_chloride": 1}, True
    yield {"magnesium_hydroxide": 2, "zinc_oxide": 5}, False
    yield {"zinc_oxide": 5, "calcium_carbonate": 2}, False
    yield {"calcium_carbonate": 2, "magnesium_carbonate": 2}, False
    yield {"calcium_carbonate": 2, "magnesium_carbonate": 2}, True
    yield {"magnesium_carbonate": 2, "magnesium_chloride": 1}, False
    yield {"zinc_carbonate": 2, "calcium_carbonate": 2}, False
    yield {"zinc_carbonate_hydroxide": 5, "magnesium_carbonate": 2, "calcium_carbonate": 2}, False
    for name in ["salicylic_acid", "benzoic_acid", "sorbic_acid", "azelaic_acid"]:
        for share in [0.1, 0.5, 2, 10, 30]:
            yield {name: share}, False
            yield {name: share, "sodium_chloride": 0.5}, False
            yield {name: share, "citric_acid": 0.3}, False
            if share >= 0.5:
                yield {name: share, "sodium_hydroxide": 0.05}, False
    yield {"benzoic_acid": 1, "sodium_benzoate": 0.5}, False
    yield {"salicylic_acid": 2, "sodium_salicylate": 1}, False
    yield {"salicylic_acid": 2, "benzoic_acid": 2}, False
    yield {"zinc_oxide": 5, "azelaic_acid": 0.1}, False


def main():
    solver = phreeqc.Phreeqc()
    if solver.LoadDatabaseString(data_base()):
        raise RuntimeError(solver.GetErrorString())
    print("""\
# pH of suspensions at 25 °C, 1 atm: what dissolves does so to its solubility, the rest lies at the bottom.
# Source of pH and I: IPHREEQC 3.8.6 (U.S. Geological Survey) through the Python package phreeqc 1.1.1, driven by tests/reference/suspensions.py with a data base of its own: the pKa of formulation::chemistry::acids, the solubility constants and solubilities of ::solubility as phases, Davies' equation, uncharged species with coefficient 1.
# ww: % by mass; solubility: solids and acids are phases; air: in equilibrium with carbon dioxide of the air (1.42e-5 mol/kg dissolved), else closed, carbon dioxide above one atmosphere escapes. I in mol/kg.
# Left out on both sides: ion pairs (calcium citrate, zinc hydroxides and carbonates, magnesium carbonate) and other solids that might fall out. IPHREEQC counts the water of neutralisation and what has dissolved in the activity of water, the program what is mixed in.
case_id,ww,solubility,air,pH,I""")
    counts = {}
    for ww, air in cases():
        first = next(iter(ww)).replace("_", "-")
        counts[first] = counts.get(first, 0) + 1
        found, ionic = ph(solver, ww, air)
        mixed = ";".join(f"{name}={share:g}" for name, share in ww.items())
        print(f"{first} {counts[first]},{mixed},yes,{'yes' if air else 'no'},{found:.6f},{ionic:.8g}")


if __name__ == "__main__":
    main()
