# SPDX-License-Identifier: Apache-2.0
"""highs.py MODEL.json LIMIT_S: lets HiGHS, as SciPy brings it, solve a model that milp.py wrote,
and shows its log after a line "begin"."""
import json
import sys

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

with open(sys.argv[1], encoding="utf-8") as file:
    model = json.load(file)
coefficients, rows, columns = [], [], []
for number, (terms, _) in enumerate(model["rows"]):
    for coefficient, variable in terms:
        coefficients.append(coefficient)
        rows.append(number)
        columns.append(variable)
matrix = csr_matrix((coefficients, (rows, columns)),
                    shape=(len(model["rows"]), len(model["gains"])))
low, high = zip(*(span or (0, 1) for span in model["spans"]))
print("begin", flush=True)
milp(-numpy.array(model["gains"]), integrality=[span is None for span in model["spans"]],
     bounds=Bounds(low, high),
     constraints=LinearConstraint(matrix, -numpy.inf, [limit for _, limit in model["rows"]]),
     options={"disp": True, "mip_rel_gap": 0, "time_limit": float(sys.argv[2])})
