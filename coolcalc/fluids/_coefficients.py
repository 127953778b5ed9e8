"""Coefficients of the property formulas. Generated; do not edit.

Made by data/fit_coefficients.py from the fit rows of data/published/,
sha256 b3e3d8ac9ef1605de6f3a26dc6a30d0066d6a1ecea5edc3b2558b437ab1e5169.
Model minus row, fit rows only:

density    ethylene glycol  crc-concentrative   9 rows  mean  +0.02  rms  0.04  max  0.07  kg/m3
density    ethylene glycol  melinder-2010      38 rows  mean  -0.24  rms  0.52  max  1.17  kg/m3
density    ethylene glycol  perry-8             2 rows  mean  +0.03  rms  0.14  max  0.17  kg/m3
density    ethylene glycol  vdi-atlas           7 rows  mean  +0.02  rms  0.06  max  0.11  kg/m3
density    propylene glycol crc-constants       1 rows  mean  +0.14  rms  0.14  max  0.14  kg/m3
density    propylene glycol eisenbach-2021     11 rows  mean  +0.09  rms  0.26  max  0.48  kg/m3
density    propylene glycol george-2003        16 rows  mean  -0.02  rms  0.12  max  0.33  kg/m3
density    propylene glycol melinder-2010      38 rows  mean  -0.31  rms  0.73  max  1.63  kg/m3
density    propylene glycol nakanishi-1967     14 rows  mean  -0.00  rms  0.08  max  0.17  kg/m3
density    propylene glycol perry-8             5 rows  mean  +0.37  rms  0.63  max  1.21  kg/m3
density    propylene glycol sun-2004            6 rows  mean  -0.85  rms  1.02  max  1.73  kg/m3
density    glycerol         bosart-1927        21 rows  mean  -0.09  rms  0.17  max  0.42  kg/m3
density    glycerol         crc-concentrative   6 rows  mean  +0.33  rms  0.41  max  0.58  kg/m3
density    glycerol         melinder-2010      29 rows  mean  -0.16  rms  0.40  max  1.04  kg/m3
density    glycerol         volk-2018           5 rows  mean  -1.00  rms  1.36  max  2.62  kg/m3
density    glycerol         vdi-atlas           5 rows  mean  +0.99  rms  1.19  max  1.71  kg/m3
density    glycerol         lange-15            4 rows  mean  -0.29  rms  0.30  max  0.39  kg/m3
freezing   ethylene glycol  crc-concentrative  12 rows  mean  +0.01  rms  0.05  max  0.13  K
freezing   propylene glycol lange-15            6 rows  mean  -0.27  rms  0.54  max  0.79  K
freezing   propylene glycol melinder-2010       3 rows  mean  -0.39  rms  0.63  max  0.89  K
freezing   propylene glycol melinder-iir        6 rows  mean  +0.39  rms  0.45  max  0.70  K
freezing   glycerol         crc-concentrative   6 rows  mean  +0.03  rms  0.06  max  0.11  K
freezing   glycerol         lange-15            6 rows  mean  -0.42  rms  0.79  max  1.32  K
freezing   glycerol         melinder-iir        4 rows  mean  +0.10  rms  0.29  max  0.54  K
refraction propylene glycol gerke-2023         16 rows  mean  -0.04  rms  1.45  max  3.03  1e-4
refraction propylene glycol macbeth-1951        8 rows  mean  -0.34  rms  0.81  max  1.46  1e-4
refraction glycerol         crc-concentrative   6 rows  mean  +0.31  rms  1.89  max  3.13  1e-4
refraction glycerol         crc-constants       1 rows  mean  -0.43  rms  0.43  max  0.43  1e-4
refraction glycerol         gerke-2023         18 rows  mean  -2.18  rms  3.26  max  7.17  1e-4
refraction ethylene glycol  crc-concentrative   9 rows  mean  +0.15  rms  0.77  max  1.35  1e-4
refraction ethylene glycol  crc-constants       1 rows  mean  -0.06  rms  0.06  max  0.06  1e-4
refraction sucrose          oiv-as2-02         19 rows  mean  +0.00  rms  0.02  max  0.04  1e-4
refraction sucrose          crc-sucrose        23 rows  mean  -0.08  rms  0.24  max  0.64  1e-4
vapour     ethylene glycol  trc-vapour          3 rows  mean  +0.59  rms  2.75  max  4.38  %
vapour     ethylene glycol  perry-8-vapour      7 rows  mean  -0.59  rms  1.78  max  4.12  %
vapour     ethylene glycol  landolt-20          5 rows  mean  +0.31  rms  1.50  max  2.43  %
vapour     ethylene glycol  crc-vaporization    1 rows  mean  +0.02  rms  0.02  max  0.02  %
vapour     ethylene glycol  enthalpy-2009       9 rows  mean  +0.12  rms  1.73  max  2.63  %
vapour     ethylene glycol  fujita-1989         5 rows  mean  -0.18  rms  0.22  max  0.39  %
vapour     ethylene glycol  ice-line            4 rows  mean  -0.14  rms  0.53  max  0.88  %
vapour     ethylene glycol  zhang-2016          5 rows  mean  +0.36  rms  0.50  max  0.91  %
vapour     propylene glycol trc-vapour          3 rows  mean -10.76  rms 15.06  max 25.15  %
vapour     propylene glycol perry-8-vapour      7 rows  mean  +5.55  rms 11.90  max 31.16  %
vapour     propylene glycol landolt-20          5 rows  mean  -0.19  rms  1.05  max  2.21  %
vapour     propylene glycol crc-constants       1 rows  mean  -0.52  rms  0.52  max  0.52  %
vapour     propylene glycol enthalpy-2005       8 rows  mean  +0.17  rms  1.25  max  2.30  %
vapour     propylene glycol ice-line            6 rows  mean  +0.15  rms  0.39  max  0.54  %
vapour     glycerol         landolt-20          6 rows  mean  +0.21  rms  0.29  max  0.47  %
vapour     glycerol         vdi-vapour          5 rows  mean  -2.02  rms  2.62  max  4.63  %
vapour     glycerol         crc-constants       1 rows  mean  +0.10  rms  0.10  max  0.10  %
vapour     glycerol         glycerol-tx         7 rows  mean  -0.14  rms  0.89  max  1.49  %
vapour     glycerol         zhang-2022         12 rows  mean  -0.45  rms  1.61  max  5.40  %
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
SUCROSE_RISE = (0.1427251806596552, 0.05303219757359892, 0.0259179932276306, -0.027616836024361897, 0.04275927503321418, -0.02480753220512077)
SUCROSE_START = (1.4021122611795542, -0.6205996505585937, 0.2923701663187861, -0.05606772742255674, -0.049272608219686334, 0.03149473037762893)
WATER_MOLAR_MASS = 18.01528
WATER_CRITICAL = (647.096, 22064000.0)
WATER_VAPOR = (-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502)
BOIL_START_SHIFT = 0.05
WATER_HEAT_CAPACITY = (4177.7208308341305, 1.11520927395126, 67.42946515575758, -37.60694616027189, -1.810033586693924, 8.892130169031683)
WATER_CONDUCTIVITY = (0.6288272969740747, 0.07926718413637623, -0.04025073564379438, 0.009278713783986923, 0.002535829633879096, -0.0024476730057860214)
WATER_VISCOSITY = (-7.334539417505454, 3.628753904508393, 0.5424828847461314, 1.1898708793459376, 1.1716787623413558, -1.5922783754820364)

COEFFICIENTS: dict[str, dict[str, Any]] = {
    "ethylene glycol": {
        "glycol_volume": (0.0009094803308090872, 3.546942545057903e-05, 3.0543089425939744e-06, 1.5790388618959447e-07),
        "cross_volume": (
            (0.0009720682978701966, 3.890831795956544e-05, 5.811176309113765e-06),
            (1.6187714913737635e-05, 5.173792899389493e-07, -1.0607509135425263e-05),
            (1.4360131396209922e-05, -1.7190991361816284e-05),
            (-1.2602151770645497e-05,),
        ),
        "freeze": (29.967132822066123, 18.944655996562133, 164.72700843666797, -69.62958046898201),
        "freeze_end": 51.35739604554225,
        "freeze_start": (1.7156707396936466, -2.197604851668077, -14.688087498709185, 117.67148388242896, -387.4549051692598, 704.7076574438065, -731.4827342862421, 405.3516063697226, -93.02423554029029),
        "melt_from": 0.8,
        "melt_k": 260.15,
        "melt": (194.64768463466947, -286.2104642598671, 608.9047516277373, -1230.4855264094251, 2080.5727201028717, -1900.0523490448948),
        "melt_end": 30.927759447400067,
        "melt_start": (0.1588909709956331, 0.03712215135310265, 0.004800844741515219, -0.0005331414782090429, -4.2542087747774575e-05, -0.0004839847936102264, 0.0007237543147970956, -0.0007553000467128439, 0.00027724626164016963),
        "index_rise": (0.09324339085701211, 0.021474490393829176, -0.01592106457437331),
        "index_drift": (
            (-0.0002764968632345457, 8.279481409429329e-05, 4.2220668127365e-06),
            (2.7172961047498178e-06, -3.113587345954273e-06, 1.6425448751474225e-06),
        ),
        "index_start": (1.0595309402796649, -0.2565196968253701, 0.3037554161955888, -0.19953636268783342, 0.10079724149254941, -0.00805260073337711),
        "molar_mass": 62.068,
        "glycol_vapor": (7.657693720183124, -19.578616430536286, -4.41177376676602, -0.9077040181133715),
        "activity": (-0.0933271260385831, -0.16439545479555773, 0.06293403630856563, 0.0),
        "activity_drift": (-1.505573234783172, 2.5482455878901096, -2.7533424694047337, 0.9562603437842399),
        "activity_curve": (
            (-2.794026640416842, 2.6843601203945964),
            (1.8911080618347424, -0.7593926220107011),
        ),
        "boil_start": (
            (-0.0036400094498319257, -0.07509591004225677, -0.0007925911548845403),
            (0.07570278049353926, -0.0007754857979958534, 0.0002763345944162456),
            (-0.01989394999815683, -0.002100793344832368, 0.00032683706950649774),
            (-0.02057230429738976, -0.005668492420862729, -0.0003806068565576602),
            (-0.009164841931879856, -0.0032765734923238493, -0.00025963199602402543),
            (-0.0022962720338275118, -0.0009255333438128434, -3.5174948671157234e-05),
            (-0.00023084295803923536, -0.00010541462978386296, 2.891134389928902e-07),
        ),
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
        "glycol_volume": (0.000979213103438415, 4.3593875418237034e-05, 3.496071685065842e-06, 1.0923305902374876e-06),
        "cross_volume": (
            (0.0009375747098657975, 4.6675555875758546e-05, 3.7722762283532814e-06),
            (2.3695991321222697e-05, -5.529771499979333e-06, -1.7884929464517613e-05),
            (1.2946828688593104e-05, -2.397072972306067e-05),
            (9.722509561909087e-06,),
        ),
        "freeze": (24.44313029765425, 38.8957034839852, 32.96375480272552, 160.0387493484215, -520.8612458030613, 1524.3690073977207, -1984.8926986325828, 1188.6551861587761),
        "freeze_end": 51.54886476438489,
        "freeze_start": (2.1081937606393346, -6.8923781113443585, 25.672927357904996, -82.35905579466142, 191.09462737051544, -292.50557922979306, 275.78402982568684, -144.15861215327695, 31.856202654322264),
        "melt_k": 0.0,
        "melt_end": 0.0,
        "melt_from": 2.0,
        "melt": (0.0,),
        "melt_start": (0.0,),
        "index_rise": (0.10130314958061871, 0.06752330995206289, -0.11273229987582846, 0.04410423539219283),
        "index_drift": (
            (-0.0003559300356088216, 4.040662634645216e-05, 8.181504253365585e-05),
            (3.68980954154633e-06, -5.139864682499844e-06, 2.8218441230585426e-06),
        ),
        "index_start": (0.988877788416337, -0.6296125394331602, 1.5236281540959007, -2.1305161059592215, 1.9098705718972808, -0.6621364244391189),
        "molar_mass": 76.095,
        "glycol_vapor": (8.032127726231945, -18.88921694516429, -2.5747935322495663),
        "activity": (0.4697724688175488, -0.06431733588775547, -1.0737009984668675, 0.7597040462014153),
        "activity_drift": (-1.64999595102997, -1.23260524770166, 8.27665524764829, -5.856200645832416),
        "activity_curve": (
            (-5.18387030338466, 4.666114333224856),
            (3.354293587686877, -3.261460582351704),
        ),
        "boil_start": (
            (-0.0030326495374779186, -0.07493287921492789, -0.0007933872427098384),
            (0.05786477629858917, -0.0057966906617158784, 0.00037974277780260436),
            (-0.03394631057079346, -0.01814080703821512, -0.00020624673828796924),
            (-0.026936849608790607, -0.021273968435449736, -0.0015088796694837556),
            (-0.009108583734078593, -0.010153257153457124, -0.000981882937693956),
            (-0.0014836396083970122, -0.0023560656240017826, -0.00023450612443702744),
            (-7.929326629312067e-05, -0.00021879986443409558, -2.0382241944687354e-05),
        ),
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
        "glycol_volume": (0.0008008009779010798, 2.411838102057955e-05, 1.8917941766833835e-06),
        "cross_volume": (
            (0.0009744788385324104, 2.9159166641896655e-05, 3.7116982165234967e-07, 7.269992120616573e-06),
            (1.0551311515293913e-05, -1.2137243873277495e-05),
            (-6.748904015373723e-07, -2.627365122851328e-06),
            (-3.2710399483676286e-06,),
        ),
        "freeze": (20.196755488956935, 29.06929818931492, 25.0081464799752, 51.32404376805785, -120.79941083944671, 391.3169603680153, -510.7400732364937, 324.4352707149772),
        "freeze_end": 34.65209167201618,
        "freeze_start": (1.7155065163024108, -4.1884400529199635, 12.689828023371915, -35.84952231145073, 77.26301381605256, -113.1814069278827, 103.7817034311673, -53.238075280720906, 11.6075119540651),
        "melt_from": 0.7,
        "melt_k": 291.34999999999997,
        "melt": (197.1530318820586, -55.16852509342462, 65.73074500868232, 11.346074589657253, -9.441467995543459, 114.73889727195808),
        "melt_end": 56.10807751450211,
        "melt_start": (0.28459150200676087, 0.022663785316571466, -0.00407594972000348, -0.0027104223197216416, -0.00037011334310986646, 1.4347131725126617e-05, -0.00020369208112947334, 6.01586538255604e-05, 3.0384672803189808e-05),
        "index_rise": (0.10993735641799143, 0.06487860823914532, -0.058035038668204565, 0.024778835005958594),
        "index_drift": (
            (-0.0001052538623530289, -0.0002945250609067616, 0.00024109263499065938),
            (2.0692021297311114e-06, 6.259988485621401e-07, -1.4411523943365255e-06),
        ),
        "index_start": (1.2870917446287276, -0.9305482371610353, 1.859358739863116, -2.461905458035568, 1.7904165042866866, -0.5446973938941435),
        "molar_mass": 92.094,
        "glycol_vapor": (3.2478014836568425, -26.927571736910153, -7.041257813733372, -0.5764374773089641),
        "activity": (-1.300223541460024, 1.1133592441160258, -0.7390161347621031),
        "activity_drift": (1.0759817077575946, -0.8053271731013064, 0.0),
        "activity_curve": (),
        "boil_start": (
            (-0.004513715577354009, -0.07530886862999178, -0.0008023526381623596),
            (0.09439516268428869, 0.0039569296969260235, 0.0005868372768031263),
            (-0.026847403227703945, -0.00024746247372903847, 0.0035327272142081797),
            (-0.0021104372209000445, -0.0024797526941265848, 0.007233897595556796),
            (0.005934752337748755, -0.003410361149422796, 0.005976870146071175),
            (0.0025010990866663418, -0.002190038936651542, 0.0019132595114742636),
            (0.0003612978656177861, -0.0003815580902164916, 0.0002004584200770458),
        ),
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
