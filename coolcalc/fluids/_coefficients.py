"""Coefficients of the property formulas. Generated; do not edit.

Made by data/fit_coefficients.py from the fit rows of data/published/,
sha256 da87c0a9c32b8bc41e76d726b0443a472c3d29a79909e93cabd2591d2074ffdd.
Model minus row, fit rows only:

density    ethylene glycol  crc-concentrative   9 rows  mean  -0.00  rms  0.06  max  0.08  kg/m3
density    ethylene glycol  melinder-2010      38 rows  mean  -0.08  rms  0.31  max  0.66  kg/m3
density    ethylene glycol  perry-8             2 rows  mean  -0.02  rms  0.09  max  0.11  kg/m3
density    ethylene glycol  vdi-atlas           5 rows  mean  +0.03  rms  0.07  max  0.10  kg/m3
density    propylene glycol crc-constants       1 rows  mean  +0.00  rms  0.00  max  0.00  kg/m3
density    propylene glycol eisenbach-2021      1 rows  mean  +0.03  rms  0.03  max  0.03  kg/m3
density    propylene glycol george-2003         7 rows  mean  +0.00  rms  0.11  max  0.21  kg/m3
density    propylene glycol melinder-2010      38 rows  mean  -0.03  rms  0.75  max  1.74  kg/m3
density    propylene glycol nakanishi-1967      5 rows  mean  +0.04  rms  0.07  max  0.14  kg/m3
density    propylene glycol perry-8             5 rows  mean  +1.02  rms  1.47  max  2.55  kg/m3
density    propylene glycol sun-2004            6 rows  mean  -0.49  rms  0.59  max  1.04  kg/m3
density    glycerol         bosart-1927         6 rows  mean  -0.10  rms  0.19  max  0.38  kg/m3
density    glycerol         crc-concentrative   6 rows  mean  +0.33  rms  0.39  max  0.58  kg/m3
density    glycerol         melinder-2010      29 rows  mean  -0.07  rms  0.25  max  0.75  kg/m3
density    glycerol         volk-2018          17 rows  mean  +0.95  rms  1.73  max  5.19  kg/m3
density    glycerol         lange-15            4 rows  mean  -0.29  rms  0.32  max  0.44  kg/m3
freezing   ethylene glycol  crc-concentrative  10 rows  mean  +0.01  rms  0.04  max  0.09  K
freezing   propylene glycol ashrae-2001         4 rows  mean  +0.21  rms  0.29  max  0.42  K
freezing   propylene glycol lange-15            4 rows  mean  -0.62  rms  0.68  max  0.86  K
freezing   propylene glycol melinder-iir        6 rows  mean  +0.36  rms  0.44  max  0.66  K
freezing   glycerol         crc-concentrative   4 rows  mean  +0.01  rms  0.02  max  0.03  K
freezing   glycerol         lange-15            3 rows  mean  -0.56  rms  0.70  max  0.95  K
freezing   glycerol         melinder-iir        4 rows  mean  +0.03  rms  0.34  max  0.61  K
refraction propylene glycol gerke-2023         16 rows  mean  -0.40  rms  1.62  max  3.65  1e-4
refraction propylene glycol macbeth-1951        8 rows  mean  -0.76  rms  1.30  max  2.25  1e-4
refraction glycerol         crc-concentrative   6 rows  mean  +0.32  rms  1.89  max  3.07  1e-4
refraction glycerol         crc-constants       1 rows  mean  -0.50  rms  0.50  max  0.50  1e-4
refraction glycerol         gerke-2023         18 rows  mean  -1.96  rms  3.02  max  6.03  1e-4
refraction ethylene glycol  crc-concentrative   9 rows  mean  +0.15  rms  0.77  max  1.35  1e-4
refraction ethylene glycol  crc-constants       1 rows  mean  -0.06  rms  0.06  max  0.06  1e-4
refraction sucrose          oiv-as2-02         19 rows  mean  +0.00  rms  0.02  max  0.04  1e-4
refraction sucrose          crc-sucrose        23 rows  mean  -0.08  rms  0.24  max  0.64  1e-4
"""

from typing import Any

KELL_TOP = (999.83952, 16.945176, -0.0079870401, -4.6170461e-05, 1.0556302e-07, -2.8054253e-10)
KELL_BOTTOM = 0.01687985
KELL_SLOPE = -6.80567200601503e-08
KELL_CURVE = 9.143022437567895e-09
WATER_INDEX = (1.3339571636514866, -3.1658055672040275e-05, -0.027273137262228648, 0.01863382048972326, -0.0072202583119630945)
SUCROSE_RISE = (0.1427251806596552, 0.05303219757359892, 0.0259179932276306, -0.027616836024361897, 0.04275927503321418, -0.02480753220512077)
SUCROSE_START = (1.4021122611795542, -0.6205996505585937, 0.2923701663187861, -0.05606772742255674, -0.049272608219686334, 0.03149473037762893)

COEFFICIENTS: dict[str, dict[str, Any]] = {
    "ethylene glycol": {
        "glycol_volume": (0.0009094691800909806, 3.5443054088136414e-05, 3.1169426671480724e-06, 2.3167741564447377e-07),
        "excess_volume": (
            (-2.1823717654112448e-05, -1.9536552112048528e-05, -4.8731802781416815e-06, 2.3262672443606408e-05),
            (-2.439602749628665e-05, 0.00011988554874503591, -4.865843237595418e-05, -3.392745382327953e-05),
            (-4.151903812336865e-06, -0.0001023479777294737, 6.708419680650077e-05),
        ),
        "freeze": (29.967132822066123, 18.426734155499922, 168.50291326387668, -74.79832246984887),
        "freeze_end": 51.316670662124594,
        "freeze_start": (1.7143688818034306, -2.1532206942094585, -15.328717337955785, 121.48314320077874, -399.44059852257, 726.3181701698472, -753.9040544428075, 417.7941132689968, -95.88438855459347),
        "index_rise": (0.09324339085701211, 0.021474490393829176, -0.01592106457437331),
        "index_drift": (
            (-0.00024425439026375324, -3.21281350014836e-06, 6.906022007267488e-05),
            (3.5576215705692423e-06, -5.197036232047687e-06, 2.748750445335263e-06),
        ),
        "index_start": (1.0595309402796649, -0.2565196968253701, 0.3037554161955888, -0.19953636268783342, 0.10079724149254941, -0.00805260073337711),
    },
    "propylene glycol": {
        "glycol_volume": (0.0009787404604364096, 4.11265113037646e-05, 2.7035350127431443e-06, 4.828773461696497e-06),
        "excess_volume": (
            (-6.483838391004977e-05, -0.00010712869397655302, 0.00019268052480423032, 0.00012957317343565843, -0.0002490060622011752),
            (5.069511393269185e-05, 0.0006658615025446414, -0.000776724428595142, -0.0005023522122378712, 0.0009224844268552646),
            (-0.00016954708280173095, -0.0010769460465790133, 0.0007146945088790755, 0.00046347644040367224, -0.0008296938079276667),
            (0.00010440928345180202, 0.0005828910781938839),
        ),
        "freeze": (24.44313029765425, 42.18315149376364, -3.1319553141120764, 170.03254037030737),
        "freeze_end": 51.21152760049108,
        "freeze_start": (2.092697365648551, -7.002431125979129, 30.892039482769416, -124.36474343131545, 344.2414448175579, -593.7035655520178, 606.579072753027, -335.24698834500026, 77.11353241473226),
        "index_rise": (0.09833069822061499, 0.08008819245568986, -0.12930613810076824, 0.05105975811775652),
        "index_drift": (
            (-9.286747609965715e-05, -0.0007467018401382719, 0.000609526067279883),
            (1.9444774215221885e-06, 4.120284960714812e-07, -6.375644480681963e-07),
        ),
        "index_start": (1.0183050523252626, -0.8025576505779735, 2.0162062156051874, -2.9612380181181535, 2.6446166047416084, -0.9152513752952995),
    },
    "glycerol": {
        "glycol_volume": (0.0008007629269294373, 2.3620907716073134e-05, 6.315070596768949e-07),
        "excess_volume": (
            (-3.388359709520427e-05, -2.977870322652459e-05, -3.120767708448214e-05),
            (3.923552732235609e-05, 0.00011464272261363548, 6.466918511056018e-06),
            (-9.017089566677356e-05, -8.557810233224255e-05),
            (3.912077546332428e-05,),
        ),
        "freeze": (20.196755488956935, 31.178514321215232, 9.509257911594915, 70.62478662569747),
        "freeze_end": 34.54929050460653,
        "freeze_start": (1.7099654064907854, -4.371670026059453, 15.798772117666381, -55.61254627922855, 141.57444725599862, -231.32579477996634, 227.7745513933804, -122.59192591002999, 27.64453274823987),
        "index_rise": (0.10990253160714142, 0.06516992423530968, -0.058550576731546004, 0.025030494405278703),
        "index_drift": (
            (-0.00010179609282120663, -0.0003149307607433436, 0.0002693264174786104),
            (2.838533567688171e-06, -3.325606824838961e-07, -1.138477468400073e-06),
        ),
        "index_start": (1.28742471083255, -0.9350595972089755, 1.8741642064970256, -2.484788883343658, 1.8084569693227557, -0.5504852014187641),
    },
}
