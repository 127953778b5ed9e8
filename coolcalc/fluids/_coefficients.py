"""Coefficients of the property formulas. Generated; do not edit.

Made by data/fit_coefficients.py from the fit rows of data/published/,
sha256 b215355bd5ae3f3c37524b9da15a10dd04291794b8172b4867fce0175b9d651e.
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
refraction ethylene glycol  crc-concentrative   9 rows  mean  +0.14  rms  0.76  max  1.34  1e-4
refraction ethylene glycol  crc-constants       1 rows  mean  -0.51  rms  0.51  max  0.51  1e-4
refraction propylene glycol gerke-2023          5 rows  mean  +0.57  rms  1.41  max  2.33  1e-4
refraction propylene glycol macbeth-1951        6 rows  mean  -0.30  rms  0.50  max  0.76  1e-4
refraction glycerol         crc-concentrative   6 rows  mean  +0.07  rms  0.92  max  1.52  1e-4
refraction glycerol         crc-constants       1 rows  mean  -7.82  rms  7.82  max  7.82  1e-4
refraction glycerol         gerke-2023          2 rows  mean  -0.93  rms  3.20  max  3.99  1e-4
heat_capacity ethylene glycol  melinder-2010      32 rows  mean  +0.01  rms  0.13  max  0.31  %
heat_capacity ethylene glycol  perry-8-transport   9 rows  mean  -0.22  rms  0.22  max  0.26  %
heat_capacity ethylene glycol  zabransky-2001      9 rows  mean  +0.21  rms  0.22  max  0.28  %
heat_capacity propylene glycol melinder-2010      31 rows  mean  +0.01  rms  0.20  max  0.65  %
heat_capacity propylene glycol perry-8-transport  12 rows  mean  +0.01  rms  0.32  max  0.66  %
heat_capacity propylene glycol zabransky-2001     12 rows  mean  -0.01  rms  0.56  max  1.30  %
heat_capacity glycerol         melinder-2010      25 rows  mean  +0.01  rms  0.16  max  0.34  %
heat_capacity glycerol         zabransky-2001      6 rows  mean  +0.00  rms  0.01  max  0.02  %
heat_capacity water            iapws-transport    14 rows  mean  +0.00  rms  0.04  max  0.07  %
conductivity ethylene glycol  melinder-2010      32 rows  mean  -0.02  rms  0.97  max  1.99  %
conductivity ethylene glycol  perry-8-transport   9 rows  mean  +0.01  rms  0.02  max  0.03  %
conductivity ethylene glycol  vdi-transport       9 rows  mean  -0.01  rms  0.02  max  0.03  %
conductivity propylene glycol melinder-2010      31 rows  mean  +0.00  rms  1.02  max  2.29  %
conductivity propylene glycol perry-8-transport  12 rows  mean  -0.00  rms  0.01  max  0.03  %
conductivity glycerol         melinder-2010      25 rows  mean  -0.02  rms  0.38  max  0.87  %
conductivity glycerol         vdi-transport       8 rows  mean  +0.00  rms  0.01  max  0.02  %
conductivity water            iapws-transport    14 rows  mean  +0.00  rms  0.05  max  0.10  %
viscosity  ethylene glycol  crc-concentrative  18 rows  mean  +0.95  rms  1.06  max  1.76  %
viscosity  ethylene glycol  melinder-2010      32 rows  mean  -0.48  rms  3.02  max  8.97  %
viscosity  ethylene glycol  perry-8-transport   9 rows  mean  -0.26  rms  0.95  max  1.60  %
viscosity  ethylene glycol  sun-teja-2003      11 rows  mean  -0.54  rms  0.99  max  1.71  %
viscosity  ethylene glycol  yang-2003          26 rows  mean  -0.24  rms  1.82  max  5.91  %
viscosity  propylene glycol melinder-2010      31 rows  mean  -0.69  rms  3.28  max  8.88  %
viscosity  propylene glycol perry-8-transport  12 rows  mean  +0.82  rms  1.46  max  2.91  %
viscosity  propylene glycol sun-2004            7 rows  mean  +0.11  rms  1.26  max  2.42  %
viscosity  glycerol         cheng-2008         45 rows  mean  -0.86  rms  1.96  max  5.47  %
viscosity  glycerol         crc-concentrative  24 rows  mean  -0.55  rms  0.98  max  3.11  %
viscosity  glycerol         melinder-2010      25 rows  mean  +1.03  rms  2.51  max  7.52  %
viscosity  glycerol         segur-1951         20 rows  mean  +0.56  rms  1.13  max  3.21  %
viscosity  glycerol         vdi-transport       3 rows  mean  +0.36  rms  0.71  max  1.00  %
viscosity  water            iapws-transport    14 rows  mean  -0.00  rms  0.02  max  0.03  %
"""

from typing import Any

KELL_TOP = (999.83952, 16.945176, -0.0079870401, -4.6170461e-05, 1.0556302e-07, -2.8054253e-10)
KELL_BOTTOM = 0.01687985
KELL_SLOPE = -6.80567200601503e-08
KELL_CURVE = 9.143022437567895e-09
WATER_INDEX = (1.3339571636514866, -3.1658055672040275e-05, -0.027273137262228648, 0.01863382048972326, -0.0072202583119630945)
WATER_HEAT_CAPACITY = (4177.7208308341305, 1.11520927395126, 67.42946515575758, -37.60694616027189, -1.810033586693924, 8.892130169031683)
WATER_CONDUCTIVITY = (0.6288272969740747, 0.07926718413637623, -0.04025073564379438, 0.009278713783986923, 0.002535829633879096, -0.0024476730057860214)
WATER_VISCOSITY = (-7.334539417505454, 3.628753904508393, 0.5424828847461314, 1.1898708793459376, 1.1716787623413558, -1.5922783754820364)

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
        "index_rise": (0.09322610716257579, 0.021577785830425945, -0.016052518426191705),
        "index_warm": (-0.0002771631414603456, 5.976091604716413e-05),
        "heat_capacity_glycol": (2477.6697916175403, 307.3613313096512, -8.18632795385174),
        "heat_capacity_excess": (
            (662.3348982658213, 207.29869161732665, -315.2998627671873),
            (-241.60020247247215, 690.3311575092781),
            (-806.1219672383498,),
        ),
        "conductivity_glycol": (0.25607780118498996, 0.007581211323239106, -0.004733245556287037),
        "conductivity_excess": (
            (-0.1199223607092362, -0.03287905232372482, 0.04415925339029389),
            (-0.04695190527088177, -0.055087006927795425),
        ),
        "viscosity_glycol": (-4.66154861389781, 6.709070194643335, 0.903565189488119),
        "viscosity_excess": (
            (-0.14613441215422018, -1.8148556794968296, -4.648778109239196, -3.455926727652486),
            (-1.1510743931956415, 3.3330208358086586, 8.37885237074755),
            (0.21935452107912679, -2.501401997408622),
        ),
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
        "index_rise": (0.10181026521690636, 0.06100895184533645, -0.10081760956867178, 0.038150667250454975),
        "index_warm": (-0.0002483592938494207, 2.1129550233852666e-05),
        "heat_capacity_glycol": (2589.7169089556696, 345.0625834518102, 3.1429710395488972),
        "heat_capacity_excess": (
            (890.5773874917561, 383.4735079820908, -164.23233391638445),
            (377.10281691190437, -188.17093915567887),
            (-670.9308602792298,),
        ),
        "conductivity_glycol": (0.19962930452397026, -0.0029690074274139307),
        "conductivity_excess": (
            (-0.14726715549813396, -0.052442857700567, 0.04081286096607922),
            (-0.02509729199824237, -0.012733090648086058),
        ),
        "viscosity_glycol": (-3.925237782414398, 9.265998704159623, 2.4571562064170376, -2.1076658302860425, 0.46036808677930074),
        "viscosity_excess": (
            (-0.5379188403023811, -2.027609323149137, 7.066547651513772),
            (0.14404054904570956, 7.451519991255498, -9.46505438251501),
            (-1.2208859330640527, -8.01863294573954),
        ),
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
        "index_rise": (0.11222804808955072, 0.04950482959656478, -0.028679723317780785, 0.007767885831609382),
        "index_warm": (-0.00012810352333466859, 0.0),
        "heat_capacity_glycol": (2449.7156392468396, 310.83793312015797),
        "heat_capacity_excess": (
            (277.1082481404529, -19.330848023446265, -295.0516802349808),
            (-65.36380804595984, 1498.4070836229355),
            (-94.24777511015932,),
        ),
        "conductivity_glycol": (0.2935043378995435, 0.00682328767123287),
        "conductivity_excess": (
            (-0.08666402299074223, -0.050977418383962254, 0.03883393802938837),
            (-0.07558664006569792, 0.0010543099595988772),
        ),
        "viscosity_glycol": (-1.2658058682713622, 13.475338476230522, 3.8666543593229306, -1.358780748502217),
        "viscosity_excess": (
            (-3.6939952695985108, -7.239116496845443, -4.237173106254829),
            (-3.937966516900532, -7.45263106244236),
            (2.869590050079859, -5.770331321816866),
            (-7.219998329787306, 1.1550797290052144),
        ),
    },
}
