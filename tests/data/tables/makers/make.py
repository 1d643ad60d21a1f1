#!/usr/bin/env python3
"""Makes the tables of the first rounds in this folder, and adds to `expected.json` what a person reads in those that do
not stand there yet.

    pip install openpyxl==3.1.5 xlsxwriter pandas odfpy==1.4.1 lxml
    apt-get install libreoffice-calc-nogui
    python3 make.py

All recipes, suppliers and prices are invented. An expectation is: the name as written, the
materials that are right, divided by strokes, with a question mark in front of what must be
asked about ("new" for a material that the shelf does not have), percent, phase.
"""

import kit
import recipes, amounts, lists, more, third, fourth  # noqa: F401

kit.done()
