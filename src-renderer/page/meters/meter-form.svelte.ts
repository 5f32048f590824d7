export class MeterForm {}
