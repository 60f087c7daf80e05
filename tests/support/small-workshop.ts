/** Files of a very small workshop: enough of each kind for a job with a finding, a fitting, a pick and a waiver. */
export const smallWorkshop: Readonly<Record<string, string>> = {
  makers: lines('name,note', 'Brantock,', 'Halloran Seals,'),
  firms: lines('name,customer,supplier,outworker,note', 'R. Sandiman,yes,no,no,Rings on Fridays.', "Trewin's,no,yes,no,"),
  grades: lines('scale,letter,rank,meaning', 'core,B,2,Complete or near it.', 'part,B,2,Fit to use again.'),
  places: lines('path,kind,nicknames', 'Stores/Rack 3/Bin 12,bin,the seal drawer', 'Yard,area,'),
  parts: lines(
    'maker,number,name,description,nicknames,unit,material,polymer',
    'Brantock,48-2217,Thrust bearing,,,each,metal,',
    'Brantock,48-2230,Pinion seal,Input side,the big seal,each,rubber,NBR',
    'Brantock,48-2206,Casing stud,,,each,metal,',
    'Brantock,48-2290,Packing,,,m,felt,',
  ),
  'part-numbers': lines(
    'part_maker,part_number,maker,number,year_first,year_last',
    'Brantock,48-2230,Halloran Seals,HS 2230,1946,',
  ),
  relations: lines(
    'from_maker,from_number,kind,to_maker,to_number,since,conditions,evidence,evidence_words',
    'Brantock,48-2217,supersession,Halloran Seals; Brantock,HS 2230; 48-2206,1946,,catalogue,"Second list, page 9"',
    'Brantock,48-2206,will serve for,Halloran Seals,HS 2230,,while the seal is waited for,told,by the storeman',
  ),
  'unit-types': lines('reference,maker,kind,model,weight_kg', 'WD7,Brantock,Overhead-worm axle,WD7,186'),
  'unit-type-operations': lines('unit_type,number,name,minutes,after', 'WD7,10,Strip,300,', 'WD7,20,Build,480,10'),
  'unit-type-lines': lines(
    'unit_type,line,maker,number,quantity,operation,critical,reusable',
    'WD7,1,Brantock,48-2217,1,20,yes,yes',
    'WD7,2,Brantock,48-2230,2,20,no,no',
    'WD7,3,Brantock,48-2206,8,20,no,yes',
    'WD7,4,Brantock,48 2290,0.5,20,no,no',
  ),
  loads: lines('reference,words,seller,bought_on', "61,Three axles and a crate,Trewin's,2024-03-09"),
  units: lines(
    'reference,load,unit_type,words,grade,marks,owner,place',
    'T-1,61,WD7,,B,WD7 33?6 · 48 B 6,,Yard',
    'T-2,,,An axle that nobody knows,,,R. Sandiman,Yard',
  ),
  lots: lines(
    'reference,load,maker,number,words,quantity,source,make,packet_date,packet_condition,place,owner,held_back',
    'S-1,,Halloran Seals,HS 2230,,5,new,original supplier,2025,sealed,Stores/Rack 3/Bin 12,,',
    'S-2,61,Brantock,48-2206,,20,old stock,genuine,12 Mar 1949,opened,Stores/Rack 3/Bin 12,,',
    'S-3,,Brantock,48-2230,,2,old stock,genuine,1958,sealed,Stores/Rack 3/Bin 12,,',
    'S-4,61,,,Springs of some sort,40,,,,,,,to be looked at',
  ),
  unsorted: lines('reference,load,words,pieces,note,place', 'X-1,61,Split pins,180,,Yard'),
  jobs: lines(
    'reference,unit,customer,title,build_standard,state,priority,opened_on,date_given,date_reason',
    '107,T-1,R. Sandiman,His axle,serviceable,building,2,2024-05-01,2027-02-26,customer pressing',
  ),
  'job-operations': lines('job,operation,minutes_left', '107,10,0'),
  'job-findings': lines('job,line,reused,replaced,words', '107,1,0,1,Brinelled.', '107,3,2,0,'),
  'job-fittings': lines('job,line,lot,quantity,act', '107,2,S-1,1,fit', '107,3,S-2,6,pick'),
  'job-waivers': lines('job,line,reason', '107,4,Not on this one.'),
  receipts: lines(
    'order_reference,supplier,maker,number,quantity,due_on,confirmed,for_job',
    "207,Trewin's,Brantock,48-2217,1,2027-01-08,yes,107",
  ),
};

export function lines(...rows: string[]): string {
  return `${rows.join('\n')}\n`;
}
